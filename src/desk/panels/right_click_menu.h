// The menu of the right button over the picture.
#pragma once

#include "desk/log_part.h"
#include "desk/panels/pieces.h"

namespace ropeline {

/// While it is open; it closes by itself.
void draw_right_click_menu(const Panel& panel, LogPart& part);

} // namespace ropeline
