#include "depth/net_open.h"

#include "depth/reading.h"

#include <algorithm>
#include <array>
#include <limits>

namespace ropeline {
namespace {

constexpr double out_of_sight = std::numeric_limits<double>::infinity();
constexpr double no_distance_m = 1e-9;

/// Where the ray from the shooter past `end` meets the goal line; `beyond` for a ray that goes up-ice.
double on_goal_line(IcePoint shooter, IcePoint end, double beyond) {
    const double towards_net = shooter.y_m - end.y_m;
    if (!(towards_net > 0.0)) return beyond;
    return shooter.x_m + (end.x_m - shooter.x_m) * shooter.y_m / towards_net;
}

/// The rectangle as the shot sees it. The ray to (x, 0) crosses its plane at the share t(x) of the way, so it
/// is stopped up to height / t(x), and 1 / t is linear in x.
struct Screen {
    IcePoint shooter;
    double at_zero = 0.0, slope = 0.0; ///< height / t(x) = at_zero + slope * x
    double half_gap_m = 0.0, net_height_m = 0.0;

    double top(double x) const { return std::clamp(at_zero + slope * x, 0.0, net_height_m); }

    /// Area hidden by the part of the rectangle's foot between two places, the one to the left of the mouth
    /// first.
    double behind(IcePoint left, IcePoint right) const {
        const double from = std::max(on_goal_line(shooter, left, -out_of_sight), -half_gap_m);
        const double to = std::min(on_goal_line(shooter, right, out_of_sight), half_gap_m);
        if (!(to > from)) return 0.0;
        const double at_from = at_zero + slope * from, at_to = at_zero + slope * to;
        if (at_from >= net_height_m && at_to >= net_height_m) return net_height_m * (to - from);
        // One end below the crossbar at most one stretch of the top edge is: a trapezium and a rectangle.
        if (at_from <= net_height_m && at_to <= net_height_m) return (to - from) * (at_from + at_to) / 2.0;
        const double meets = (net_height_m - at_zero) / slope;
        const double under = at_from < at_to ? meets - from : to - meets;
        const double low = std::min(at_from, at_to);
        return net_height_m * (to - from) - under * (net_height_m - low) / 2.0;
    }

    /// The same for a part that stands on the paint, `y` running from 0 to `-paint_m`, where it counts from
    /// all to nothing: three-point Gauss, exact for a fifth power.
    double behind_paint(IcePoint left, IcePoint right, double paint_m) const {
        const double from = std::clamp(on_goal_line(shooter, left, -out_of_sight), -half_gap_m, half_gap_m);
        const double to = std::clamp(on_goal_line(shooter, right, out_of_sight), -half_gap_m, half_gap_m);
        if (!(to > from)) return 0.0;
        constexpr std::array<double, 3> at{0.1127016653792583, 0.5, 0.8872983346207417};
        constexpr std::array<double, 3> weight{5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0};
        const IcePoint along = right - left;
        double sum = 0.0;
        for (std::size_t i = 0; i < at.size(); ++i) {
            const double x = from + (to - from) * at[i];
            const IcePoint ray{x - shooter.x_m, -shooter.y_m};
            const double share = cross(shooter - left, ray) / cross(along, ray); // of the foot
            const double y = left.y_m + along.y_m * share;
            sum += weight[i] * std::clamp(1.0 + y / paint_m, 0.0, 1.0) * top(x);
        }
        return sum * (to - from);
    }
};

/// The part of the foot from `low` to `high` up-ice; false when there is none.
bool keep(IcePoint& left, IcePoint& right, double low, double high) {
    const double rise = right.y_m - left.y_m;
    if (std::max(left.y_m, right.y_m) < low || std::min(left.y_m, right.y_m) > high) return false;
    const IcePoint a = left, along = right - left;
    const auto at = [&](double y) { return IcePoint{a.x_m + along.x_m * (y - a.y_m) / rise, y}; };
    for (IcePoint* end : {&left, &right}) {
        if (end->y_m < low) *end = at(low);
        if (end->y_m > high) *end = at(high);
    }
    return true;
}

double hidden_m2(const Shooter& shooter, IcePoint goalie, double apart_m, const Blocking& blocking) {
    const double reach = reach_m(apart_m, shooter.see_s, blocking);
    const double per_apart = 1.0 / apart_m;
    const IcePoint to_goalie = (goalie - shooter.at) * per_apart;
    const IcePoint half = IcePoint{to_goalie.y_m, -to_goalie.x_m} * (blocking.half_width_m + reach);
    const double height = (blocking.height_m + reach) * per_apart;
    const Screen screen{shooter.at, -height * dot(shooter.at, to_goalie), height * to_goalie.x_m,
                        blocking.half_gap_m, blocking.net_height_m};
    IcePoint left = goalie + half, right = goalie - half;
    if (std::min(left.y_m, right.y_m) >= shooter.at.y_m) return 0.0; // behind the shooter's back
    if (std::min(left.y_m, right.y_m) >= 0.0) return screen.behind(left, right);
    IcePoint paint_left = left, paint_right = right;
    double hidden = 0.0;
    if (keep(left, right, 0.0, out_of_sight)) hidden += screen.behind(left, right);
    if (keep(paint_left, paint_right, -blocking.half_line_m, 0.0))
        hidden += screen.behind_paint(paint_left, paint_right, blocking.half_line_m);
    return hidden;
}

} // namespace

Blocking blocking_of(const RuleBook& rules, const Parameters& parameters) {
    Blocking blocking;
    blocking.half_width_m = parameters.block_width_m / 2.0;
    blocking.height_m = parameters.block_height_m;
    blocking.reach_speed_mps = parameters.reach_speed_mps;
    blocking.reach_most_m = parameters.reach_most_m;
    blocking.shot_s_per_m = 1.0 / parameters.shot_speed_mps;
    blocking.half_gap_m = rules.post_half_gap.m;
    blocking.net_height_m = rules.net_height.m;
    blocking.per_mouth_m2 = 1.0 / (2.0 * rules.post_half_gap.m * rules.net_height.m);
    blocking.half_line_m = rules.thin_line.m / 2.0;
    return blocking;
}

Shooter shooter_at(IcePoint at, double see_s) {
    return {at, puck_line(at), length(at), see_s};
}

double reach_m(double way_m, double see_s, const Blocking& blocking) {
    return std::min(blocking.reach_most_m,
                    blocking.reach_speed_mps * std::max(0.0, way_m * blocking.shot_s_per_m - see_s));
}

double net_open(const Shooter& shooter, IcePoint goalie, const Blocking& blocking) {
    if (!(shooter.at.y_m > 0.0)) return 0.0;
    const double shot_there = std::min(shooter.at.y_m / edge_m, 1.0);
    const double before_the_puck = shooter.far_m - dot(goalie, shooter.line);
    const double apart = distance(goalie, shooter.at);
    if (!(before_the_puck > 0.0) || apart <= no_distance_m) return shot_there;
    const double hidden = hidden_m2(shooter, goalie, apart, blocking) * blocking.per_mouth_m2;
    return std::clamp(1.0 - hidden * std::min(before_the_puck / edge_m, 1.0), 0.0, 1.0) * shot_there;
}

} // namespace ropeline
