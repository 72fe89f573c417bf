// The page that says what the season asks for, who tags, and what is known of each goalie's body.
#pragma once

#include "desk/pages.h"
#include "desk/panels/pieces.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// In the middle of the desk, which is its place.
void draw_what_we_log(const Panel& panel, const LogState& log, LoggingEntry& typed);

} // namespace ropeline
