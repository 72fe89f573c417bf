// Every goalie of the season in a table that sorts.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/season_part.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// In the room that is left of the panel. A row chooses the goalie.
void draw_goalie_table(const Panel& panel, const LogState& log, const SeasonPart& part);

} // namespace ropeline
