#include "depth/net_seen.h"

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

/// Keeps the part of the polygon where inside(p) = a x + b up + c >= 0 (Sutherland, Hodgman 1974).
std::vector<MouthPoint> cut(const std::vector<MouthPoint>& polygon, double a, double b, double c) {
    std::vector<MouthPoint> kept;
    const auto side = [&](MouthPoint p) { return a * p.x_m + b * p.up_m + c; };
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const MouthPoint from = polygon[i], to = polygon[(i + 1) % polygon.size()];
        const double at_from = side(from), at_to = side(to);
        if (at_from >= 0.0) kept.push_back(from);
        if ((at_from >= 0.0) == (at_to >= 0.0)) continue;
        const double share = at_from / (at_from - at_to);
        kept.push_back({from.x_m + (to.x_m - from.x_m) * share, from.up_m + (to.up_m - from.up_m) * share});
    }
    return kept;
}

double area(const std::vector<MouthPoint>& polygon) {
    double twice = 0.0;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const MouthPoint p = polygon[i], q = polygon[(i + 1) % polygon.size()];
        twice += p.x_m * q.up_m - q.x_m * p.up_m;
    }
    return std::abs(twice) / 2.0;
}

} // namespace

std::optional<NetSeen> net_seen(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                double block_width_m, double block_height_m) {
    const auto coverage = coverage_of(stance, puck, rules, block_width_m, block_height_m);
    if (!coverage) return std::nullopt;
    NetSeen seen{{}, coverage->net_seen};
    const double half_gap = rules.post_half_gap.m, height = rules.net_height.m;
    const Opening &left = puck.x_m < 0.0 ? coverage->short_side : coverage->far_side,
                  &right = puck.x_m < 0.0 ? coverage->far_side : coverage->short_side;
    const double from = -half_gap + left.goal_line_m, to = half_gap - right.goal_line_m;
    if (!(to > from)) return seen;

    const BlockingSegment block = blocking_segment(stance, puck, block_width_m);
    const IcePoint along = block.right - block.left;
    const double to_block = cross(along, block.left - puck);
    /// Height hidden at x on the goal line; nothing is hidden over a block seen edge on.
    const auto top = [&](double x) {
        if (std::abs(to_block) <= 1e-12) return distance(stance.goalie, puck) <= 1e-9 ? height : 0.0;
        return block_height_m * cross(along, IcePoint{x, 0.0} - puck) / to_block;
    };
    seen.shadow = {{from, 0.0}, {to, 0.0}, {to, top(to)}, {from, top(from)}};
    seen.shadow = cut(seen.shadow, 0.0, -1.0, height);
    if (seen.shadow.size() < 3 || !(area(seen.shadow) > 0.0)) seen.shadow.clear();
    return seen;
}

std::optional<EyePoint> eye_point(IcePoint puck, IcePoint at, double up_m) {
    const IcePoint ahead = puck_line(puck) * -1.0;
    const IcePoint to_right{ahead.y_m, -ahead.x_m};
    const double away_m = dot(at - puck, ahead);
    if (!(away_m >= 0.01)) return std::nullopt;
    return EyePoint{dot(at - puck, to_right) / away_m, up_m / away_m};
}

} // namespace ropeline
