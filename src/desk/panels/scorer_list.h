// A scorer's list: how each column is read, what comes in, what is refused and why.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/scorer_list.h"

namespace ropeline {

/// `start_s`: time of the open film's first frame.
void draw_scorer_list(const Panel& panel, const LogState& log, ScorerList& page, double start_s);

} // namespace ropeline
