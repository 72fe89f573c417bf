#include "depth/on_post.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

bool on_post_play(IcePoint puck, const RuleBook& rules, const Parameters& parameters) {
    if (!(puck.y_m > 0.0)) return true;
    if (puck.y_m >= low_puck_m) return false;
    return 2.0 * rules.post_half_gap.m * puck.y_m / length(puck) <= parameters.block_width_m;
}

bool at_post(IcePoint goalie, IcePoint puck, const RuleBook& rules) {
    const double gap = rules.post_half_gap.m;
    const double to_left = distance(goalie, {-gap, 0.0}), to_right = distance(goalie, {gap, 0.0});
    const bool behind_the_net = puck.y_m <= 0.0 && std::abs(puck.x_m) <= gap;
    const double to_near = puck.x_m < 0.0 ? to_left : to_right;
    const bool either = behind_the_net || puck.x_m == 0.0;
    return (either ? std::min(to_left, to_right) : to_near) <= post_reach_m;
}

} // namespace ropeline
