// Geometry worked by hand in feet and degrees, four significant digits: plane trigonometry, no program of
// ours.
#include "depth/reading.h"
#include "depth/usual.h"
#include "rink/landmarks.h"
#include "rink/units.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

using namespace ropeline;
using namespace ropeline::usual;

namespace {

const RuleBook& iihf = rule_book(RuleBookId::iihf);

Parameters three_feet_wide() {
    Parameters parameters = parameters_for(Level::senior);
    parameters.block_width_m = from_feet(3);
    return parameters;
}

double net_angle_deg(const RuleBook& rules, IcePoint puck) {
    const Reading reading = read_moment(stance_from_mark({0.0, 1.0}), puck, rules, three_feet_wide());
    return to_degrees(reading.coverage.value().net_angle_rad);
}

// Same to half a unit of the last of `digits` significant digits.
void check_digits(double value, double printed, int digits = 4) {
    CAPTURE(printed);
    const double unit =
        printed == 0.0 ? 1e-9 : std::pow(10.0, std::floor(std::log10(std::abs(printed))) - digits + 1);
    CHECK(std::abs(value - printed) <= 0.5001 * unit);
}

} // namespace

TEST_CASE("angle between the posts") {
    check_digits(net_angle_deg(nhl, feet(22, 20)), 7.809); // atan(25/20) - atan(19/20)
    check_digits(to_degrees(std::acos((1025.0 + 761.0 - 36.0) / (2.0 * std::sqrt(1025.0 * 761.0)))),
                 7.809); // cosine rule
    check_digits(net_angle_deg(iihf, {7.0, 6.0}), 7.433);
    check_digits(net_angle_deg(nhl, feet(0, 60)), 5.725);
    check_digits(net_angle_deg(nhl, feet(0, 15)), 22.62);
}

TEST_CASE("crease edge towards the spot") {
    const auto edge_m = [](const RuleBook& rules) {
        const IcePoint spot = find_landmark(rules, "right_spot").value().at;
        return read_moment(stance_from_mark({0.0, 1.0}), spot, rules, three_feet_wide()).crease_edge_m;
    };
    check_digits(edge_m(nhl), 1.648);
    check_digits(edge_m(iihf), 1.800);
    check_digits(edge_m(rule_book(RuleBookId::usa_hockey)), 1.829);
    check_digits(edge_m(rule_book(RuleBookId::hockey_canada)), 1.829);
}

TEST_CASE("net covered from the spot, three feet wide, on the puck line") {
    struct Row {
        double depth, covered_percent, near_deg, far_deg, x, y;
    };
    const IcePoint puck = feet(22, 20);
    for (const Row& row : std::array<Row, 4>{{{1, 76.54, 1.207, 0.6254, 0.7399, 0.6727},
                                              {3, 82.25, 0.9835, 0.4023, 2.220, 2.018},
                                              {5, 88.89, 0.7244, 0.1432, 3.700, 3.363},
                                              {7, 94.62, 0.4199, 0.0, 5.180, 4.709}}}) {
        CAPTURE(row.depth);
        const IcePoint goalie = puck_line(puck) * from_feet(row.depth);
        check_digits(to_feet(goalie.x_m), row.x);
        check_digits(to_feet(goalie.y_m), row.y);
        const Reading reading = read_moment(stance_from_mark(goalie), puck, nhl, three_feet_wide());
        CHECK(to_feet(reading.depth_m) == doctest::Approx(row.depth));
        CHECK(std::abs(reading.off_angle_m) < 1e-12);
        const Coverage& coverage = reading.coverage.value();
        check_digits(100.0 * coverage.covered, row.covered_percent);
        check_digits(to_degrees(coverage.short_side.angle_rad), row.near_deg);
        check_digits(to_degrees(coverage.far_side.angle_rad), row.far_deg);
    }
}

TEST_CASE("a goalie on the bisector leaves both sides the same") {
    const IcePoint puck = feet(22, 20);
    const double left = std::atan2(-25.0, 20.0), right = std::atan2(-19.0, 20.0);
    const double bearing = (left + right) / 2.0;
    const IcePoint goalie = puck + IcePoint{std::sin(bearing), -std::cos(bearing)} * from_feet(24.732);
    const Coverage coverage =
        read_moment(stance_from_mark(goalie), puck, nhl, three_feet_wide()).coverage.value();
    check_digits(to_degrees(coverage.short_side.angle_rad), 0.4338, 3);
    CHECK(coverage.short_side.angle_rad == doctest::Approx(coverage.far_side.angle_rad));
    // The bisector meets the goal line 0.2229 ft to the puck's side of the middle.
    check_digits(22.0 + 20.0 * std::tan(bearing), 0.2229);
}

TEST_CASE("depths at which each post is just closed") {
    const IcePoint puck = feet(22, 20);
    const auto at_depth = [&](double depth) {
        return read_moment(stance_from_mark(puck_line(puck) * from_feet(depth)), puck, nhl, three_feet_wide())
            .coverage.value();
    };
    CHECK(at_depth(5.980).far_side.angle_rad > 0.0);
    CHECK(at_depth(5.984).far_side.angle_rad == doctest::Approx(0.0));
    CHECK(at_depth(9.280).short_side.angle_rad > 0.0);
    CHECK(at_depth(9.284).short_side.angle_rad == doctest::Approx(0.0));
}

TEST_CASE("way from spot to spot at one depth") {
    struct Way {
        const RuleBook& rules;
        double at_three_feet_m, at_six_feet_m;
    };
    for (const Way& printed : {Way{nhl, 1.353, 2.706}, Way{iihf, 1.389, 2.777}}) {
        const IcePoint left = find_landmark(printed.rules, "left_spot").value().at;
        const IcePoint right = find_landmark(printed.rules, "right_spot").value().at;
        const auto way = [&](double depth_ft) {
            return distance(puck_line(left) * from_feet(depth_ft), puck_line(right) * from_feet(depth_ft));
        };
        check_digits(way(3), printed.at_three_feet_m);
        check_digits(way(6), printed.at_six_feet_m);
    }
    // Mean speed needed at once for a pass of 44 ft at 15 m/s, and after 0.20 s: 3 ft out.
    const double pass_s = from_feet(44) / 15.0;
    const double way = distance(puck_line(feet(-22, 20)), puck_line(feet(22, 20))) * from_feet(3);
    check_digits(pass_s, 0.8941);
    check_digits(way / pass_s, 1.514);
    check_digits(way / (pass_s - 0.20), 1.950);
}
