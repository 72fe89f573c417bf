// The buttons over the ribbon: to the ends, a frame back or on, run or hold, and how fast.
#pragma once

#include "desk/film_stage.h"
#include "desk/panels/pieces.h"

namespace ropeline {

/// Out  how wide they are
float draw_transport(const Panel& panel, FilmStage& stage, ScreenPoint at);

} // namespace ropeline
