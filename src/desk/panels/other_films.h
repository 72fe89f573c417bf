// The game's other films as thin lines with their shots, under the open one's ribbon.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// In the ribbon's panel; a click opens one.
void draw_other_films(const Panel& panel, const LogState& log, float left, float width);

} // namespace ropeline
