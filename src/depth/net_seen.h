// The goal mouth as the puck on the ice sees it, with the goalie in the way: what there is to draw.
#pragma once

#include "depth/coverage.h"

#include <optional>
#include <vector>

namespace ropeline {

/// A place in the goal mouth: along the goal line (to the right seen from the net) and up. Metres.
struct MouthPoint {
    double x_m = 0.0, up_m = 0.0;
};

struct NetSeen {
    std::vector<MouthPoint> shadow; ///< outline of what the goalie hides, clipped to the mouth; may be empty
    double share = 0.0;             ///< of the mouth's area left in sight, 0..1; equals Coverage::net_seen
};

/// The upright block w x h thrown onto the mouth by straight lines from the puck on the ice. A line that
/// passes the block's foot at the share t of its way to the goal line is stopped below h / t.
/// Out     none when the puck is on or behind the goal line.
std::optional<NetSeen> net_seen(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                double block_width_m, double block_height_m);

/// Where something stands in the puck's eye: the eye on the ice at the puck, looking level at the net's
/// middle. Tangents of the angles, so straight lines stay straight; to the right as the puck sees it.
struct EyePoint {
    double right = 0.0, up = 0.0;
};
/// Out     none for what is beside or behind the eye (less than 1 cm in front of it).
std::optional<EyePoint> eye_point(IcePoint puck, IcePoint at, double up_m);

} // namespace ropeline
