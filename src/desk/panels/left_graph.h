// Net left along the puck line, under the plan.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/state/judged.h"
#include "desk/state/left_curve.h"

namespace ropeline {

/// How much of the net the play leaves from every place on the puck line, the advised stretch, the goalie's place
/// against it, and for each marked pass what it would find open and how far out it still works.
void draw_left_graph(const Look& look, ImDrawList* draw, const Rect& place, const Judged& view,
                     const LeftCurve& left);

} // namespace ropeline
