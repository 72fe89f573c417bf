// Everything painted on the ice, plus boards and net, as polylines for drawing. Metres, ice frame.
#pragma once

#include "rink/ice_point.h"
#include "rink/rule_book.h"

#include <vector>

namespace ropeline {

enum class PaintKind {
    goal_line,
    crease,
    blue_line,
    red_line,
    circle,
    spot,
    hash,
    l_mark,
    trapezoid,
    boards,
    net
};

struct PaintLine {
    PaintKind kind{};
    double width_m = 0.0; ///< of the painted line, whose centre the polyline is; 0 for spot, boards and net
    std::vector<IcePoint>
        points; ///< closed shapes repeat their first point; a spot is the edge of a filled disc
};

/// The whole rink: both ends and the neutral zone, so that a camera that pans sees all of it.
std::vector<PaintLine> rink_paint(const RuleBook& rules);

} // namespace ropeline
