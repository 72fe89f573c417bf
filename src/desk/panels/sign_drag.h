// A shot's sign on the ribbon under the mouse: a click goes to its frame, a double click opens it, dragged it moves.
#pragma once

#include "desk/film_stage.h"
#include "desk/log_part.h"
#include "desk/panels/pieces.h"

namespace ropeline {

/// For the ribbon's button, drawn just before; `under_s` is the film time under the mouse.
/// Out  true while a sign is held, so that the playhead follows it and nothing else
bool drag_sign(const Panel& panel, FilmStage& stage, const LogState& log, const Rect& strip, double under_s);

} // namespace ropeline
