// The whole card of one shot, and what to do while none is open.
#pragma once

#include "desk/pages.h"
#include "desk/panels/pieces.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// Into the panel that is open.
void draw_whole_card(const Panel& panel, const LogState& log, const ShotEntry& entry, CardEntry& typed);
void draw_what_next(const Panel& panel, const LogState& log);

} // namespace ropeline
