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

/// Metres to the right for each metre towards the goal line, on the ray from the puck to `at`, which lies no
/// further from the goal line than the puck.
double slope(IcePoint puck, IcePoint at) {
    const double across = at.x_m - puck.x_m;
    return across == 0.0 ? 0.0 : across / std::max(puck.y_m - at.y_m, 0.0);
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

/// The rays past both ends of the block, within those to the posts, as slopes; equal when the block hides
/// nothing.
struct Shadow {
    double left_post = 0.0, right_post = 0.0;
    double left = 0.0, right = 0.0;
};

/// Where a ray that slopes so meets the goal line.
double goal_line_m(double slope, IcePoint puck, double half_gap_m) {
    return std::clamp(puck.x_m + puck.y_m * slope, -half_gap_m, half_gap_m);
}

/// Nothing when the puck is on or behind the goal line.
std::optional<Shadow> shadow_of(const Stance& stance, IcePoint puck, const BlockingSegment& block,
                                double half_gap_m, double block_width_m) {
    if (!(puck.y_m > 0.0)) return std::nullopt;
    Shadow shadow;
    shadow.left_post = (-half_gap_m - puck.x_m) / puck.y_m;
    shadow.right_post = (half_gap_m - puck.x_m) / puck.y_m;
    if (distance(stance.goalie, puck) <= at_the_puck_m) {
        shadow.left = shadow.left_post;
        shadow.right = shadow.right_post;
    } else if (const auto part = clipped(block.left, block.right, -block_width_m / 2.0, puck.y_m)) {
        const auto [first, last] = std::minmax({slope(puck, part->first), slope(puck, part->second)});
        shadow.left = std::clamp(first, shadow.left_post, shadow.right_post);
        shadow.right = std::clamp(last, shadow.left_post, shadow.right_post);
    } else { // nothing in the way: split at the puck line
        shadow.left = shadow.right = -puck.x_m / puck.y_m;
    }
    return shadow;
}

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
double share_seen(const BlockingSegment& block, IcePoint puck, double left_m, double right_m,
                  double half_gap_m, double net_height_m, double block_height_m) {
    const IcePoint along = block.right - block.left;
    const double to_block =
        cross(along, block.left - puck); // signed distance of the block's line from the puck, scaled
    double seen = 2.0 * half_gap_m - (right_m - left_m);
    if (std::abs(to_block) > 1e-12) {
        const double at_zero = cross(along, IcePoint{0.0, 0.0} - puck) / to_block; // 1 / t at x = 0
        const double slope = cross(along, IcePoint{1.0, 0.0}) / to_block;
        seen += area_above_zero(net_height_m - block_height_m * at_zero, -block_height_m * slope, left_m,
                                right_m) /
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

std::optional<OpenAtPosts> open_at_posts(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                         double block_width_m) {
    const double half_gap = rules.post_half_gap.m;
    const auto shadow =
        shadow_of(stance, puck, blocking_segment(stance, puck, block_width_m), half_gap, block_width_m);
    if (!shadow) return std::nullopt;
    return OpenAtPosts{goal_line_m(shadow->left, puck, half_gap) + half_gap,
                       half_gap - goal_line_m(shadow->right, puck, half_gap)};
}

std::optional<double> covered_of(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                 double block_width_m) {
    const auto shadow = shadow_of(stance, puck, blocking_segment(stance, puck, block_width_m),
                                  rules.post_half_gap.m, block_width_m);
    if (!shadow) return std::nullopt;
    const double net_angle = std::atan(shadow->right_post) - std::atan(shadow->left_post);
    if (!(net_angle > 0.0)) return std::nullopt; // a hair above the goal line
    return std::clamp((std::atan(shadow->right) - std::atan(shadow->left)) / net_angle, 0.0, 1.0);
}

std::optional<Coverage> coverage_of(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                    double block_width_m, double block_height_m) {
    const double half_gap = rules.post_half_gap.m;
    const BlockingSegment block = blocking_segment(stance, puck, block_width_m);
    const auto shadow = shadow_of(stance, puck, block, half_gap, block_width_m);
    if (!shadow) return std::nullopt;
    const double left_post = std::atan(shadow->left_post), right_post = std::atan(shadow->right_post);
    const double from = std::atan(shadow->left), to = std::atan(shadow->right);
    const double net_angle = right_post - left_post;
    if (!(net_angle > 0.0)) return std::nullopt; // a hair above the goal line
    const double left_m = goal_line_m(shadow->left, puck, half_gap);
    const double right_m = goal_line_m(shadow->right, puck, half_gap);

    const Opening left{from - left_post, left_m + half_gap};
    const Opening right{right_post - to, half_gap - right_m};
    Coverage coverage;
    coverage.net_angle_rad = net_angle;
    coverage.covered = std::clamp((to - from) / net_angle, 0.0, 1.0);
    coverage.short_side = puck.x_m < 0.0 ? left : right;
    coverage.far_side = puck.x_m < 0.0 ? right : left;
    coverage.net_seen =
        share_seen(block, puck, left_m, right_m, half_gap, rules.net_height.m, block_height_m);
    return coverage;
}

} // namespace ropeline
