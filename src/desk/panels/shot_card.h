// The form for one shot.
#pragma once

#include "desk/pages.h"
#include "desk/panels/pieces.h"
#include "desk/state/log_state.h"

namespace ropeline {

void draw_shot_card(const Panel& panel, const LogState& log, CardEntry& typed);

} // namespace ropeline
