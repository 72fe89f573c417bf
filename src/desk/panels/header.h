// The bar on top: the three sides, the season, what undo would take back.
#pragma once

#include "desk/log_part.h"
#include "desk/look.h"
#include "desk/side.h"
#include "desk/state/layout.h"

#include <string>

namespace ropeline {

/// In      `undo`: what it would take back; empty: nothing.
void draw_header(const Look& look, const Rect& place, const LogPart& log, Side& side, bool& games_page,
                 const std::string& undo);

} // namespace ropeline
