// The lines of the shot card that a season asks for besides its own.
#pragma once

#include "desk/pages.h"
#include "desk/panels/pieces.h"
#include "desk/state/log_state.h"

namespace ropeline {

void draw_card_details(const Panel& panel, const LogState& log, const ShotEntry& entry, float label_width,
                       CardEntry& typed);

} // namespace ropeline
