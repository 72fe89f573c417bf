// What can be done where the right button was clicked in the picture.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/keys.h"
#include "desk/state/log_state.h"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ropeline {

/// What lies there: a mark of the moment in hand, a click of the rink fit, or (neither) the bare picture.
struct RightClicked {
    std::optional<std::size_t> mark, click;
};
struct MenuEntry {
    std::string words;
    std::variant<Command, LogAction> does;
};
/// The most wanted first. A mark is to be held before its commands are run.
std::vector<MenuEntry> menu_at(const LogState& log, const RightClicked& there);

} // namespace ropeline
