#include "desk/state/log_context.h"

#include "desk/state/keys.h"

#include <fmt/core.h>

namespace ropeline {

void LogContext::tell(std::string_view text, bool trouble) const {
    state.notice = {with_keys(text), trouble, true};
}

ShotEntry* shot_to_change(LogState& state) {
    const auto index = chosen_index(state);
    return index ? &state.shots[*index] : nullptr;
}

Moment* moment_to_change(LogState& state) {
    ShotEntry* entry = shot_to_change(state);
    const Moment* moment = moment_in_hand(state);
    return moment ? &entry->moments[static_cast<std::size_t>(moment - entry->moments.data())] : nullptr;
}

std::string shot_name(const LogState& state) {
    const auto index = chosen_index(state);
    return index ? fmt::format("shot {}", *index + 1) : std::string{"shot"};
}

} // namespace ropeline
