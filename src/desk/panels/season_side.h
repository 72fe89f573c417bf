// The Season side.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/season_part.h"

namespace ropeline {

void draw_season_side(const Panel& panel, const Season& season, SeasonPart& part);

} // namespace ropeline
