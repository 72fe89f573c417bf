// How much of the net the goalie hides, seen from the puck on the ice.
#pragma once

#include "depth/reading.h"

#include <optional>

namespace ropeline {

/// The blocking segment: `block_width_m` wide, its middle at the goalie, along the line of the skates when
/// both are marked, else square to the direction to the puck.
struct BlockingSegment {
    IcePoint left, right; ///< as the goalie has them
};
BlockingSegment blocking_segment(const Stance& stance, IcePoint puck, double width_m);

/// Shares of the net that are hidden and open.
/// Out     nothing when the puck is on or behind the goal line: there is no net angle.
/// Notes   only what stands between the puck and the mouth hides; parts of the segment further behind the
///         goal line than half its width do not count. A block in front but beside what the puck sees of the
///         net leaves all of it open at the other post; none in front: the puck line divides the openings.
///         `net_seen` is the part of the mouth's area that a block of that height leaves.
std::optional<Coverage> coverage_of(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                    double block_width_m, double block_height_m);

/// Two figures of it by themselves, for where the others are not asked. Same input, same cases of nothing.
struct OpenAtPosts {
    double left_m = 0.0, right_m = 0.0; ///< of goal line, at the left and the right post seen from the net
};
std::optional<OpenAtPosts> open_at_posts(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                         double block_width_m);
std::optional<double> covered_of(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                 double block_width_m);

} // namespace ropeline
