// The Season side: what the shots that are asked for say, in sentences, charts and a table of goalies.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/season_part.h"
#include "desk/state/log_state.h"

namespace ropeline {

void draw_season_side(const Panel& panel, const LogState& log, SeasonPart& part);

} // namespace ropeline
