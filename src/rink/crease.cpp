#include "rink/crease.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

/// Half the width of the crease on the goal line.
double foot_x_m(const RuleBook& rules) {
    return rules.crease_shape == CreaseShape::clipped_disc ? rules.crease_half_width.m
                                                           : rules.crease_radius.m;
}

} // namespace

std::vector<IcePoint> crease_outline(const RuleBook& rules, int steps) {
    const double radius = rules.crease_radius.m;
    const double foot = foot_x_m(rules);
    const double half_angle = std::asin(foot / radius);
    const int chords = std::max(steps, 1);
    std::vector<IcePoint> outline;
    const bool has_sides = foot < radius;
    if (has_sides) outline.push_back({-foot, 0.0});
    for (int i = 0; i <= chords; ++i) {
        const double angle = half_angle * (2.0 * i / chords - 1.0);
        outline.push_back({radius * std::sin(angle), radius * std::cos(angle)});
    }
    if (has_sides) {
        outline.push_back({foot, 0.0});
    } else {
        outline.front().y_m = outline.back().y_m = 0.0; // cos(pi/2) is not quite zero
    }
    return outline;
}

double crease_edge_m(const RuleBook& rules, IcePoint direction) {
    const double norm = length(direction);
    if (norm == 0.0) return rules.crease_radius.m;
    if (direction.y_m <= 0.0) return foot_x_m(rules);
    const double sideways = std::abs(direction.x_m) / norm;
    return std::min(rules.crease_radius.m,
                    sideways > 0.0 ? foot_x_m(rules) / sideways : rules.crease_radius.m);
}

} // namespace ropeline
