// Net left along the puck line, under the plan.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/state/judged.h"
#include "desk/state/left_curve.h"

#include <optional>

namespace ropeline {

/// Somewhere on the graph: how far out, and the share of the net that the play leaves from there.
struct GraphPlace {
    double out_m = 0.0, left = 0.0;
};

/// How much of the net the play leaves from every place on the puck line, the advised stretch, the goalie's place
/// against it, and for each marked pass what it would find open and how far out it still works.
/// In      `you`: the place that was answered in Study, told apart from the game's
void draw_left_graph(const Look& look, ImDrawList* draw, const Rect& place, const Judged& view,
                     const LeftCurve& left, const std::optional<GraphPlace>& you = {});

} // namespace ropeline
