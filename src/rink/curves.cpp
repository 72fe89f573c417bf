#include "rink/curves.h"

#include "rink/landmarks.h"
#include "rink/once_a_book.h"
#include "rink/units.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace ropeline {
namespace {

CurvePiece straight(IcePoint from, IcePoint to) {
    return {from, to, {}, 0.0};
}
CurvePiece arc(IcePoint from, IcePoint to, IcePoint centre, double radius) {
    return {from, to, centre, radius};
}

CurvePiece whole_circle(IcePoint centre, double radius) {
    const IcePoint start = centre + IcePoint{radius, 0.0};
    return arc(start, start, centre, radius);
}

CurvePiece across(double half_width, double y) {
    return straight({-half_width, y}, {half_width, y});
}

std::vector<CurvePiece> crease(const RuleBook& rules) {
    const double radius = rules.crease_radius.m;
    if (rules.crease_shape == CreaseShape::semicircle)
        return {arc({radius, 0.0}, {-radius, 0.0}, {}, radius)};
    const double side = rules.crease_half_width.m;
    const double height = std::sqrt(radius * radius - side * side);
    return {straight({side, 0.0}, {side, height}), arc({side, height}, {-side, height}, {}, radius),
            straight({-side, height}, {-side, 0.0})};
}

std::vector<CurvePiece> boards_pieces(const RuleBook& rules) {
    const double side = rules.rink_width.m / 2.0;
    const double corner = rules.corner_radius.m;
    const double low = -rules.goal_line_to_boards.m;
    const double high = low + rules.rink_length.m;
    return {straight({side, low + corner}, {side, high - corner}),
            arc({side, high - corner}, {side - corner, high}, {side - corner, high - corner}, corner),
            straight({side - corner, high}, {-side + corner, high}),
            arc({-side + corner, high}, {-side, high - corner}, {-side + corner, high - corner}, corner),
            straight({-side, high - corner}, {-side, low + corner}),
            arc({-side, low + corner}, {-side + corner, low}, {-side + corner, low + corner}, corner),
            straight({-side + corner, low}, {side - corner, low}),
            arc({side - corner, low}, {side, low + corner}, {side - corner, low + corner}, corner)};
}

std::vector<IceCurve> collect_curves(const RuleBook& rules) {
    const double side = rules.rink_width.m / 2.0;
    const double goal_line_end = find_landmark(rules, "right_goal_line_end").value().at.x_m;
    const double radius = rules.circle_radius.m;
    const IcePoint right_spot = find_landmark(rules, "right_spot").value().at;
    const IcePoint left_spot{-right_spot.x_m, right_spot.y_m};
    return {{"goal_line", "goal line", {across(goal_line_end, 0.0)}},
            {"crease", "crease, outer edge", crease(rules)},
            {"left_circle", "left circle, outer edge", {whole_circle(left_spot, radius)}},
            {"right_circle", "right circle, outer edge", {whole_circle(right_spot, radius)}},
            {"blue_line", "blue line, middle", {across(side, rules.blue_line_centre.m)}},
            {"red_line", "red line, middle", {across(side, rules.red_line_centre.m)}},
            {"centre_circle",
             "centre circle, outer edge",
             {whole_circle({0.0, rules.red_line_centre.m}, radius)}},
            {"boards", "foot of the boards", boards_pieces(rules)}};
}

} // namespace

const std::vector<IceCurve>& ice_curves(const RuleBook& rules) {
    return once_a_book<collect_curves>(rules);
}

std::optional<IceCurve> find_curve(const RuleBook& rules, std::string_view name) {
    const std::vector<IceCurve>& all = ice_curves(rules);
    const auto found = std::ranges::find(all, name, &IceCurve::name);
    if (found == all.end()) return std::nullopt;
    return *found;
}

double distance_m(const CurvePiece& piece, IcePoint to) {
    const double to_ends = std::min(distance(piece.from, to), distance(piece.to, to));
    if (piece.radius_m > 0.0) {
        const IcePoint from_centre = to - piece.centre;
        const IcePoint start = piece.from - piece.centre, end = piece.to - piece.centre;
        const double turn = cross(start, end);
        // Arcs here span at most half a turn, or all of it.
        const bool whole = piece.from == piece.to;
        const bool inside =
            whole || (turn >= 0.0 && cross(start, from_centre) >= 0.0 && cross(from_centre, end) >= 0.0);
        return inside ? std::abs(length(from_centre) - piece.radius_m) : to_ends;
    }
    const IcePoint along = piece.to - piece.from;
    const double share = dot(to - piece.from, along) / dot(along, along);
    if (share < 0.0 || share > 1.0) return to_ends;
    return std::abs(cross(along, to - piece.from)) / length(along);
}

double distance_m(const IceCurve& curve, IcePoint to) {
    return distance_m(nearest_piece(curve, to), to);
}

std::vector<IcePoint> places_along(const IceCurve& curve, double step_m) {
    std::vector<IcePoint> places;
    for (const CurvePiece& piece : curve.pieces) {
        const IcePoint start = piece.from - piece.centre, end = piece.to - piece.centre;
        const bool bent = piece.radius_m > 0.0;
        const double first = std::atan2(start.y_m, start.x_m);
        double turn = std::atan2(end.y_m, end.x_m) - first;
        if (turn <= 0.0) turn += 2.0 * pi;
        const double whole_m = bent ? piece.radius_m * turn : distance(piece.from, piece.to);
        const int steps = std::max(1, static_cast<int>(std::ceil(whole_m / step_m)));
        for (int step = places.empty() ? 0 : 1; step <= steps; ++step) {
            const double share = static_cast<double>(step) / steps;
            const double angle = first + share * turn;
            places.push_back(bent ? piece.centre + IcePoint{std::cos(angle), std::sin(angle)} * piece.radius_m
                                  : piece.from + (piece.to - piece.from) * share);
        }
    }
    return places;
}

const CurvePiece& nearest_piece(const IceCurve& curve, IcePoint to) {
    return *std::ranges::min_element(curve.pieces, {},
                                     [&](const CurvePiece& piece) { return distance_m(piece, to); });
}

} // namespace ropeline
