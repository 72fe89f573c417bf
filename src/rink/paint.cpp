#include "rink/paint.h"

#include "rink/crease.h"
#include "rink/landmarks.h"
#include "rink/units.h"

#include <cmath>
#include <utility>

namespace ropeline {
namespace {

/// Points of an arc about `centre`; angles in radians from +x towards +y.
std::vector<IcePoint> arc(IcePoint centre, double radius, double from, double to, int chords) {
    std::vector<IcePoint> points;
    for (int i = 0; i <= chords; ++i) {
        const double angle = from + (to - from) * i / chords;
        points.push_back(centre + IcePoint{radius * std::cos(angle), radius * std::sin(angle)});
    }
    return points;
}

std::vector<IcePoint> full_circle(IcePoint centre, double radius, int chords = 72) {
    std::vector<IcePoint> points = arc(centre, radius, 0.0, 2.0 * pi, chords);
    points.back() = points.front();
    return points;
}

void append(std::vector<IcePoint>& to, const std::vector<IcePoint>& more) {
    to.insert(to.end(), more.begin(), more.end());
}

double goal_line_end_x(const RuleBook& rules) {
    return find_landmark(rules, "right_goal_line_end").value().at.x_m;
}

/// Centre of the crease paint: the same shape with radius and half width smaller by half a line.
std::vector<IcePoint> crease_centre_line(const RuleBook& rules) {
    RuleBook inset = rules;
    inset.crease_radius.m -= rules.thin_line.m / 2.0;
    inset.crease_half_width.m -= rules.thin_line.m / 2.0;
    return crease_outline(inset);
}

void add_crease_marks(const RuleBook& rules, std::vector<PaintLine>& to) {
    const double length = rules.crease_mark_length.m;
    const double width = rules.thin_line.m;
    const IcePoint at = find_landmark(rules, "right_crease_mark").value().at;
    for (const double side : {-1.0, 1.0}) {
        const IcePoint foot{side * at.x_m, at.y_m};
        std::vector<IcePoint> points{foot, foot + IcePoint{-side * length, 0.0}};
        if (rules.crease_shape == CreaseShape::semicircle)
            points.push_back(points.back() + IcePoint{0.0, -length});
        to.push_back({PaintKind::crease, width, std::move(points)});
    }
}

/// Net on the ice: from post to post round the back, with rounded rear corners.
std::vector<IcePoint> net_outline(const RuleBook& rules) {
    const double half = rules.post_half_gap.m + rules.post_diameter.m / 2.0;
    const double depth = rules.net_depth.m;
    const double corner = depth / 2.0;
    std::vector<IcePoint> points{{half, 0.0}};
    append(points, arc({half - corner, -depth + corner}, corner, 0.0, -pi / 2.0, 8));
    append(points, arc({-half + corner, -depth + corner}, corner, -pi / 2.0, -pi, 8));
    points.push_back({-half, 0.0});
    return points;
}

void add_circle_with_marks(const RuleBook& rules, double side, std::vector<PaintLine>& to) {
    const double thin = rules.thin_line.m;
    const IcePoint spot{side * rules.spot_from_axis.m, rules.spot_from_goal_line.m};
    to.push_back({PaintKind::circle, thin, full_circle(spot, rules.circle_radius.m - thin / 2.0)});
    to.push_back({PaintKind::spot, 0.0, full_circle(spot, rules.spot_diameter.m / 2.0, 32)});
    const double half_gap = rules.hash_gap.m / 2.0;
    const double root = std::sqrt(rules.circle_radius.m * rules.circle_radius.m - half_gap * half_gap);
    for (const double across : {-1.0, 1.0}) {
        for (const double along : {-1.0, 1.0}) {
            const IcePoint hash = spot + IcePoint{across * root, along * half_gap};
            to.push_back({PaintKind::hash, thin, {hash, hash + IcePoint{across * rules.hash_length.m, 0.0}}});
            const IcePoint corner =
                spot + IcePoint{across * rules.l_mark_across.m, along * rules.l_mark_along.m};
            to.push_back({PaintKind::l_mark,
                          thin,
                          {corner + IcePoint{across * rules.l_leg_across.m, 0.0}, corner,
                           corner + IcePoint{0.0, along * rules.l_leg_along.m}}});
        }
    }
}

/// One end with its half of the neutral zone, without the red line and what stands on it.
std::vector<PaintLine> near_end(const RuleBook& rules) {
    const double thin = rules.thin_line.m;
    const double side_boards = rules.rink_width.m / 2.0;
    const double goal_end = goal_line_end_x(rules);
    const double blue = rules.blue_line_centre.m;
    std::vector<PaintLine> lines;
    lines.push_back({PaintKind::goal_line, thin, {{-goal_end, 0.0}, {goal_end, 0.0}}});
    lines.push_back({PaintKind::crease, thin, crease_centre_line(rules)});
    add_crease_marks(rules, lines);
    lines.push_back({PaintKind::net, 0.0, net_outline(rules)});
    lines.push_back({PaintKind::blue_line, rules.wide_line.m, {{-side_boards, blue}, {side_boards, blue}}});
    for (const double side : {-1.0, 1.0}) {
        add_circle_with_marks(rules, side, lines);
        const IcePoint neutral{side * rules.neutral_spot_from_axis.m, rules.neutral_spot_from_goal_line.m};
        lines.push_back({PaintKind::spot, 0.0, full_circle(neutral, rules.spot_diameter.m / 2.0, 32)});
        if (rules.trapezoid_half_at_goal_line && rules.trapezoid_half_at_boards) {
            lines.push_back({PaintKind::trapezoid,
                             thin,
                             {{side * rules.trapezoid_half_at_goal_line->m, 0.0},
                              {side * rules.trapezoid_half_at_boards->m, -rules.goal_line_to_boards.m}}});
        }
    }
    return lines;
}

std::vector<IcePoint> boards(const RuleBook& rules) {
    const double side = rules.rink_width.m / 2.0;
    const double corner = rules.corner_radius.m;
    const double low = -rules.goal_line_to_boards.m;
    const double high = low + rules.rink_length.m;
    std::vector<IcePoint> points = arc({side - corner, low + corner}, corner, -pi / 2.0, 0.0, 24);
    append(points, arc({side - corner, high - corner}, corner, 0.0, pi / 2.0, 24));
    append(points, arc({-side + corner, high - corner}, corner, pi / 2.0, pi, 24));
    append(points, arc({-side + corner, low + corner}, corner, pi, 1.5 * pi, 24));
    points.push_back(points.front());
    return points;
}

} // namespace

std::vector<PaintLine> rink_paint(const RuleBook& rules) {
    std::vector<PaintLine> lines = near_end(rules);
    const std::size_t near_count = lines.size();
    for (std::size_t i = 0; i < near_count; ++i) {
        PaintLine far = lines[i];
        for (IcePoint& point : far.points)
            point = from_other_end(rules, point);
        lines.push_back(std::move(far));
    }
    const double side = rules.rink_width.m / 2.0;
    const double red = rules.red_line_centre.m;
    lines.push_back({PaintKind::red_line, rules.wide_line.m, {{-side, red}, {side, red}}});
    lines.push_back({PaintKind::circle, rules.thin_line.m,
                     full_circle({0.0, red}, rules.circle_radius.m - rules.thin_line.m / 2.0)});
    lines.push_back({PaintKind::spot, 0.0, full_circle({0.0, red}, rules.centre_spot_diameter.m / 2.0, 32)});
    lines.push_back({PaintKind::boards, 0.0, boards(rules)});
    return lines;
}

} // namespace ropeline
