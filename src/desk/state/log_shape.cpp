#include "desk/state/log_shape.h"

#include <algorithm>

namespace ropeline {

LogShape log_shape(const LogState& state) {
    if (state.selection.fit()) return LogShape::fit;
    if (!chosen_shot(state)) return LogShape::film;
    const Moment* moment = moment_in_hand(state);
    const auto has = [&](auto... kinds) {
        return moment && std::ranges::any_of(moment->marks,
                                             [&](const Mark& mark) { return ((mark.kind == kinds) || ...); });
    };
    const bool placed =
        has(MarkKind::puck) && has(MarkKind::goalie, MarkKind::skate_left, MarkKind::skate_right);
    return placed && state.selection.settled() ? LogShape::moment : LogShape::marking;
}

} // namespace ropeline
