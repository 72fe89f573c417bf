// The verdict with all that it rests on.
#pragma once

#include "desk/log_part.h"
#include "desk/pages.h"
#include "desk/panels/pieces.h"

namespace ropeline {

/// Under the film of a decision that is studied: what the puck saw, the verdict, each pass that could have come.
void draw_decision(const Panel& panel, const LogPart& part);
/// In the crease's place: the whole card, every figure, the reviewer's own verdict.
void draw_unfolded(const Panel& panel, const LogPart& part, Pages& pages);

} // namespace ropeline
