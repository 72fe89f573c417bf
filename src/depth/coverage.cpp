#include "depth/coverage.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace ropeline {
namespace {

constexpr double at_the_puck_m = 1e-9;

/// Unit vector from a to b; up-ice where they coincide.
IcePoint direction(IcePoint from, IcePoint to) {
    const double apart = distance(from, to);
    return apart > at_the_puck_m ? (to - from) * (1.0 / apart) : IcePoint{0.0, 1.0};
}

/// Angle of the ray from the puck to `at`, zero straight down the ice to the goal line, growing to the right.
/// `at` lies nearer the goal line than the puck.
double bearing(IcePoint puck, IcePoint at) {
    return std::atan2(at.x_m - puck.x_m, puck.y_m - at.y_m);
}

/// The part of the segment with y between `low` and `high`, or nothing.
std::optional<std::pair<IcePoint, IcePoint>> clipped(IcePoint a, IcePoint b, double low, double high) {
    double from = 0.0, to = 1.0;
    const double rise = b.y_m - a.y_m;
    if (rise == 0.0) {
        if (a.y_m < low || a.y_m > high) return std::nullopt;
    } else {
        const double at_low = (low - a.y_m) / rise;
        const double at_high = (high - a.y_m) / rise;
        from = std::max(from, std::min(at_low, at_high));
        to = std::min(to, std::max(at_low, at_high));
        if (from >= to) return std::nullopt;
    }
    return std::pair{a + (b - a) * from, a + (b - a) * to};
}

/// Where the rays past both ends of the block meet the goal line, left then right; nothing when no ray meets
/// the block.
struct Shadow {
    double left_m = 0.0, right_m = 0.0;
    double left_rad = 0.0, right_rad = 0.0;
};

/// Integral of max(0, a + b x) from `from` to `to`.
double area_above_zero(double a, double b, double from, double to) {
    const auto primitive = [&](double x) { return a * x + b * x * x / 2.0; };
    const double at_from = a + b * from;
    const double at_to = a + b * to;
    if (at_from <= 0.0 && at_to <= 0.0) return 0.0;
    if (at_from < 0.0) from = -a / b;
    if (at_to < 0.0) to = -a / b;
    return primitive(to) - primitive(from);
}

/// Part of the mouth's area that stays in sight. The line of sight to (x, 0, z) crosses the upright block at
/// the height z t(x), t(x) being the share of the way done there, so it is blocked up to z = height / t(x),
/// and 1 / t is linear in x.
double share_seen(const BlockingSegment& block, IcePoint puck, const Shadow& shadow, double half_gap_m,
                  double net_height_m, double block_height_m) {
    const IcePoint along = block.right - block.left;
    const double to_block =
        cross(along, block.left - puck); // signed distance of the block's line from the puck, scaled
    double seen = 2.0 * half_gap_m - (shadow.right_m - shadow.left_m);
    if (std::abs(to_block) > 1e-12) {
        const double at_zero = cross(along, IcePoint{0.0, 0.0} - puck) / to_block; // 1 / t at x = 0
        const double slope = cross(along, IcePoint{1.0, 0.0}) / to_block;
        seen += area_above_zero(net_height_m - block_height_m * at_zero, -block_height_m * slope,
                                shadow.left_m, shadow.right_m) /
                net_height_m;
    }
    return std::clamp(seen / (2.0 * half_gap_m), 0.0, 1.0);
}

} // namespace

BlockingSegment blocking_segment(const Stance& stance, IcePoint puck, double width_m) {
    const IcePoint towards = distance(stance.goalie, puck) > at_the_puck_m ? direction(stance.goalie, puck)
                                                                           : direction({0.0, 0.0}, puck);
    IcePoint to_right{towards.y_m, -towards.x_m};
    if (stance.skates && distance((*stance.skates)[0], (*stance.skates)[1]) > at_the_puck_m) {
        to_right = direction((*stance.skates)[0], (*stance.skates)[1]);
    }
    const IcePoint half = to_right * (width_m / 2.0);
    return {stance.goalie - half, stance.goalie + half};
}

std::optional<Coverage> coverage_of(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                    double block_width_m, double block_height_m) {
    if (!(puck.y_m > 0.0)) return std::nullopt;
    const double half_gap = rules.post_half_gap.m;
    const double left_post = bearing(puck, {-half_gap, 0.0});
    const double right_post = bearing(puck, {half_gap, 0.0});
    const double net_angle = right_post - left_post;
    if (!(net_angle > 0.0)) return std::nullopt; // a hair above the goal line

    const BlockingSegment block = blocking_segment(stance, puck, block_width_m);
    const bool on_the_puck = distance(stance.goalie, puck) <= at_the_puck_m;
    const auto part = clipped(block.left, block.right, -block_width_m / 2.0, puck.y_m);
    Shadow shadow;
    if (on_the_puck) {
        shadow = {-half_gap, half_gap, left_post, right_post};
    } else if (part) {
        const auto [first, last] = std::minmax({bearing(puck, part->first), bearing(puck, part->second)});
        shadow.left_rad = std::clamp(first, left_post, right_post);
        shadow.right_rad = std::clamp(last, left_post, right_post);
    } else { // nothing in the way: split at the puck line
        shadow.left_rad = shadow.right_rad = bearing(puck, {0.0, 0.0});
    }
    const auto goal_line_at = [&](double angle) {
        return std::clamp(puck.x_m + puck.y_m * std::tan(angle), -half_gap, half_gap);
    };
    if (!on_the_puck) {
        shadow.left_m = goal_line_at(shadow.left_rad);
        shadow.right_m = goal_line_at(shadow.right_rad);
    }

    const Opening left{shadow.left_rad - left_post, shadow.left_m + half_gap};
    const Opening right{right_post - shadow.right_rad, half_gap - shadow.right_m};
    Coverage coverage;
    coverage.net_angle_rad = net_angle;
    coverage.covered = std::clamp((shadow.right_rad - shadow.left_rad) / net_angle, 0.0, 1.0);
    coverage.short_side = puck.x_m < 0.0 ? left : right;
    coverage.far_side = puck.x_m < 0.0 ? right : left;
    coverage.net_seen = share_seen(block, puck, shadow, half_gap, rules.net_height.m, block_height_m);
    return coverage;
}

} // namespace ropeline
