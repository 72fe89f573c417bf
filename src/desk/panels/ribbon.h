// The strip under the picture: the film's length, its shots, its rink fits, where you are.
#pragma once

#include "desk/film_stage.h"
#include "desk/panels/pieces.h"
#include "desk/state/rink_here.h"

namespace ropeline {

void draw_ribbon(const Panel& panel, FilmStage& stage, const LogState& log);

} // namespace ropeline
