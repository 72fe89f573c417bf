// Games and films.
#pragma once

#include "desk/pages.h"
#include "desk/panels/pieces.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// In the middle of the desk, which is its place.
void draw_games_page(const Panel& panel, const LogState& log, Pages& pages);

} // namespace ropeline
