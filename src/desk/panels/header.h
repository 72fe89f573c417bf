// The bar on top: the three sides, the season, what undo would take back.
#pragma once

#include "desk/log_part.h"
#include "desk/panels/pieces.h"
#include "desk/side.h"

#include <string>

namespace ropeline {

/// What of the desk the bar says besides the log.
struct HeaderWords {
    Side side{};
    bool practice = false; ///< the open season is the one to learn on
    bool start = false;    ///< the start page is shown over it
    std::string undo;      ///< what it would take back; empty: nothing
};

void draw_header(const Panel& panel, const LogPart& log, const HeaderWords& words);

} // namespace ropeline
