#include "depth/sequence.h"

namespace ropeline {

Way way_between(IcePoint from, IcePoint to) {
    Way way;
    if (length(from) > 0.0 && length(to) > 0.0) way.turn_rad = std::atan2(cross(to, from), dot(from, to));
    way.out_m = length(to) - length(from);
    way.length_m = distance(from, to);
    return way;
}

std::optional<AngleBeforeDepth> angle_before_depth(IcePoint from, IcePoint between, IcePoint to) {
    const Way whole = way_between(from, to);
    if (std::abs(whole.turn_rad) < least_turn_rad || whole.out_m < least_out_m) return std::nullopt;
    const Way part = way_between(from, between);
    AngleBeforeDepth order;
    order.turn_share = part.turn_rad / whole.turn_rad;
    order.out_share = part.out_m / whole.out_m;
    order.held = order.turn_share >= order.out_share;
    return order;
}

std::optional<double> speed_mps(IcePoint from, IcePoint to, double seconds) {
    if (!(seconds > 0.0) || seconds > longest_look_s) return std::nullopt;
    return distance(from, to) / seconds;
}

std::optional<bool> set_at(IcePoint shortly_before, IcePoint at_release, double seconds) {
    const auto speed = speed_mps(shortly_before, at_release, seconds);
    if (!speed) return std::nullopt;
    return *speed < set_below_mps;
}

} // namespace ropeline
