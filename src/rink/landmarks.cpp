#include "rink/landmarks.h"

#include "rink/once_a_book.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

namespace ropeline {
namespace {

struct Side {
    std::string name;
    double sign;
};

/// Collects landmarks of both sides: `name` and `label` carry "left" or "right" in front.
class Collector {
public:
    void pair(const std::string& name, const std::string& label, IcePoint right, bool marked = true) {
        for (const Side& side : {Side{"left", -1.0}, Side{"right", 1.0}}) {
            found_.push_back({side.name + "_" + name,
                              side.name + " " + label,
                              {side.sign * right.x_m, right.y_m},
                              marked});
        }
    }
    void pair_at_boards(const std::string& name, const std::string& label, IcePoint right) {
        pair(name, label, right);
        for (Landmark& side : std::span{found_}.last(2))
            side.at_boards = true;
    }
    void single(const std::string& name, const std::string& label, IcePoint at, bool marked = true) {
        found_.push_back({name, label, at, marked});
    }
    std::vector<Landmark> take() { return std::move(found_); }

private:
    std::vector<Landmark> found_;
};

void add_net_and_crease(const RuleBook& rules, Collector& to) {
    to.pair("post", "post, inside", {rules.post_half_gap.m, 0.0});
    const bool clipped = rules.crease_shape == CreaseShape::clipped_disc;
    const double radius = rules.crease_radius.m;
    const double foot = clipped ? rules.crease_half_width.m : radius;
    to.pair("crease_foot", "crease foot, outer edge on the goal line", {foot, 0.0});
    to.single("crease_top", "crease top, outer edge", {0.0, radius}, false);
    if (clipped)
        to.pair("crease_corner", "crease corner, outer edge",
                {foot, std::sqrt(radius * radius - foot * foot)});
    const double mark_y = rules.crease_mark_depth.m;
    to.pair("crease_mark", "crease mark, outer edge",
            {clipped ? foot : std::sqrt(radius * radius - mark_y * mark_y), mark_y});
    if (rules.trapezoid_half_at_goal_line) {
        to.pair("trapezoid_foot", "trapezoid on the goal line", {rules.trapezoid_half_at_goal_line->m, 0.0});
    }
    if (rules.trapezoid_half_at_boards) {
        to.pair_at_boards("trapezoid_end", "trapezoid at the end boards",
                          {rules.trapezoid_half_at_boards->m, -rules.goal_line_to_boards.m});
    }
}

void add_circle(const RuleBook& rules, Collector& to) {
    const IcePoint spot{rules.spot_from_axis.m, rules.spot_from_goal_line.m};
    const double radius = rules.circle_radius.m;
    to.pair("spot", "spot, centre", spot);
    to.pair("circle_low", "circle, nearest the goal line", spot + IcePoint{0.0, -radius}, false);
    to.pair("circle_high", "circle, farthest from the goal line", spot + IcePoint{0.0, radius}, false);
    to.pair("circle_inner", "circle, slot side", spot + IcePoint{-radius, 0.0}, false);
    to.pair("circle_outer", "circle, boards side", spot + IcePoint{radius, 0.0}, false);

    const double half_gap = rules.hash_gap.m / 2.0;
    const double root = std::sqrt(radius * radius - half_gap * half_gap);
    const double tip = root + rules.hash_length.m;
    for (const Side& height : {Side{"low", -1.0}, Side{"high", 1.0}}) {
        const std::string where = height.name == "low" ? "goal side" : "blue line side";
        const double y = height.sign * half_gap;
        to.pair("inner_hash_" + height.name, "slot-side hash, " + where + ", on the circle",
                spot + IcePoint{-root, y});
        to.pair("inner_hash_" + height.name + "_tip", "slot-side hash, " + where + ", tip",
                spot + IcePoint{-tip, y});
        to.pair("outer_hash_" + height.name, "boards-side hash, " + where + ", on the circle",
                spot + IcePoint{root, y});
        to.pair("outer_hash_" + height.name + "_tip", "boards-side hash, " + where + ", tip",
                spot + IcePoint{tip, y});
        const double along = height.sign * rules.l_mark_along.m;
        to.pair("inner_l_" + height.name, "slot-side L, " + where + ", corner",
                spot + IcePoint{-rules.l_mark_across.m, along});
        to.pair("outer_l_" + height.name, "boards-side L, " + where + ", corner",
                spot + IcePoint{rules.l_mark_across.m, along});
    }
}

void add_lines_and_centre(const RuleBook& rules, Collector& to) {
    const double side = rules.rink_width.m / 2.0;
    const double corner = rules.corner_radius.m;
    const double rise = corner - rules.goal_line_to_boards.m; // goal line to the centre of the corner's arc
    to.pair_at_boards("goal_line_end", "end of the goal line at the boards",
                      {side - corner + std::sqrt(corner * corner - rise * rise), 0.0});
    const double half_wide = rules.wide_line.m / 2.0;
    to.pair_at_boards("blue_line_low", "blue line at the boards, goal-side edge",
                      {side, rules.blue_line_centre.m - half_wide});
    to.pair_at_boards("blue_line_high", "blue line at the boards, far edge",
                      {side, rules.blue_line_centre.m + half_wide});
    to.pair("neutral_spot", "neutral zone spot, centre",
            {rules.neutral_spot_from_axis.m, rules.neutral_spot_from_goal_line.m});
    const double red = rules.red_line_centre.m;
    to.single("centre_spot", "centre spot", {0.0, red});
    to.single("centre_circle_low", "centre circle, nearest this net", {0.0, red - rules.circle_radius.m},
              false);
    to.pair("centre_circle_side", "side of the centre circle, on the red line", {rules.circle_radius.m, red});
    to.pair_at_boards("red_line_low", "red line at the boards, near edge", {side, red - half_wide});
    to.pair_at_boards("red_line_high", "red line at the boards, far edge", {side, red + half_wide});
}

std::vector<Landmark> collect_landmarks(const RuleBook& rules) {
    Collector to;
    add_net_and_crease(rules, to);
    add_circle(rules, to);
    add_lines_and_centre(rules, to);
    std::vector<Landmark> all = to.take();
    std::ranges::stable_sort(all, {}, [](const Landmark& mark) { return length(mark.at); });
    return all;
}

} // namespace

const std::vector<Landmark>& landmarks(const RuleBook& rules) {
    return once_a_book<collect_landmarks>(rules);
}

std::optional<Landmark> find_landmark(const RuleBook& rules, std::string_view name) {
    const std::vector<Landmark>& all = landmarks(rules);
    const auto found = std::ranges::find(all, name, &Landmark::name);
    if (found == all.end()) return std::nullopt;
    return *found;
}

IcePoint from_other_end(const RuleBook& rules, IcePoint at) {
    return {-at.x_m, 2.0 * rules.red_line_centre.m - at.y_m};
}

} // namespace ropeline
