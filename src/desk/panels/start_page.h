// The start page: go on with a season, make one, or learn on the practice film.
#pragma once

#include "desk/log_part.h"
#include "desk/panels/pieces.h"
#include "desk/start_page.h"
#include "desk/state/settings.h"

namespace ropeline {

void draw_start_page(const Panel& panel, StartPage& start, const Settings& settings, const LogPart& log);

} // namespace ropeline
