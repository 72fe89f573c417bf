// What the window is called where windows are listed.
#pragma once

#include "desk/state/log_state.h"

#include <string>

namespace ropeline {

/// "2026-11-20  Harbour Pike – Mill Town Otters"; empty when no game is open.
std::string game_words(const LogState& log);
/// The season, its open game, the program; without a season (null) the program.
std::string window_title(const LogState* log);

} // namespace ropeline
