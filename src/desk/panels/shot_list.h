// The table of the game's shots.
#pragma once

#include "desk/list_part.h"
#include "desk/panels/pieces.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// Beside the film.
void draw_shot_list(const Panel& panel, const LogState& log, ListPart& list);
/// On the whole page.
void draw_list_page(const Panel& panel, const LogState& log, ListPart& list);

} // namespace ropeline
