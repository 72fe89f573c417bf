// The page without a season.
#pragma once

#include "desk/first_run.h"
#include "desk/panels/pieces.h"

namespace ropeline {

void draw_first_run(const Panel& panel, FirstRun& first);

} // namespace ropeline
