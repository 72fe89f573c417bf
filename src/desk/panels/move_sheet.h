// Asks whether a shot is to be moved, and says what becomes of its marks.
#pragma once

#include "desk/pages.h"
#include "desk/panels/pieces.h"

namespace ropeline {

void draw_move_sheet(const Panel& panel, const MovingShot& moving);

} // namespace ropeline
