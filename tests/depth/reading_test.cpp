#include "depth/reading.h"
#include "depth/usual.h"
#include "rink/units.h"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>

using namespace ropeline;
using namespace ropeline::usual;

namespace {

bool all_finite(const Reading& reading) {
    for (const double number :
         {reading.depth_m, reading.off_angle_m, reading.crease_edge_m, reading.clearance_m,
          reading.reaction_s, reading.square_error_rad.value_or(0.0)}) {
        if (!std::isfinite(number)) return false;
    }
    if (!reading.coverage) return true;
    for (const double number :
         {reading.coverage->net_angle_rad, reading.coverage->covered, reading.coverage->net_seen,
          reading.coverage->short_side.angle_rad, reading.coverage->short_side.goal_line_m,
          reading.coverage->far_side.angle_rad, reading.coverage->far_side.goal_line_m}) {
        if (!std::isfinite(number)) return false;
    }
    return true;
}

} // namespace

TEST_CASE("bands: edges belong to the shallower band below, the base band holds both its edges") {
    CHECK(band_of(0.4499, -1.0, senior) == Band::defensive);
    CHECK(band_of(0.45, -1.0, senior) == Band::conservative);
    CHECK(band_of(1.5, -0.301, senior) == Band::conservative);
    CHECK(band_of(1.5, -0.30, senior) == Band::base);
    CHECK(band_of(2.1, 0.30, senior) == Band::base);
    CHECK(band_of(2.2, 0.301, senior) == Band::aggressive);
    for (const Band band : {Band::defensive, Band::conservative, Band::base, Band::aggressive}) {
        CHECK(band_from_key(key_of(band)) == band);
    }
    CHECK_FALSE(band_from_key("deep").has_value());
}

TEST_CASE("off angle is to the right of the puck line seen from the net") {
    CHECK(off_angle_m({0.5, 1.0}, {0.0, 10.0}) == doctest::Approx(0.5));
    CHECK(off_angle_m({-0.5, 1.0}, {0.0, 10.0}) == doctest::Approx(-0.5));
    CHECK(off_angle_m({0.0, 1.0}, {10.0, 10.0}) <
          0.0); // the puck line goes right, the goalie stayed left of it
}

TEST_CASE("square error: facing up-ice, puck to the goalie's left is positive") {
    const Stance facing_up = stance_from_skates({-0.3, 1.0}, {0.3, 1.0});
    CHECK(facing_up.goalie == IcePoint{0.0, 1.0});
    const auto error_deg = [&](IcePoint puck) {
        return to_degrees(read_moment(facing_up, puck, nhl, senior).square_error_rad.value());
    };
    CHECK(error_deg({0.0, 9.0}) == doctest::Approx(0.0));
    CHECK(error_deg({-8.0, 9.0}) == doctest::Approx(45.0));
    CHECK(error_deg({8.0, 9.0}) == doctest::Approx(-45.0));
    CHECK_FALSE(
        read_moment(stance_from_mark({0.0, 1.0}), {0.0, 9.0}, nhl, senior).square_error_rad.has_value());
    CHECK_FALSE(read_moment(stance_from_skates({0.0, 1.0}, {0.0, 1.0}), {0.0, 9.0}, nhl, senior)
                    .square_error_rad.has_value());
}

TEST_CASE("a turned stance hides less") {
    const IcePoint puck{0.0, 9.0};
    const Stance square = stance_from_skates({-0.3, 1.0}, {0.3, 1.0});
    const Stance turned = stance_from_skates({-0.3 * std::cos(0.8), 1.0 - 0.3 * std::sin(0.8)},
                                             {0.3 * std::cos(0.8), 1.0 + 0.3 * std::sin(0.8)});
    const double square_covered = read_moment(square, puck, nhl, senior).coverage->covered;
    CHECK(read_moment(turned, puck, nhl, senior).coverage->covered < square_covered);
    CHECK(read_moment(stance_from_mark({0.0, 1.0}), puck, nhl, senior).coverage->covered ==
          doctest::Approx(square_covered));
}

TEST_CASE("openings are on the right sides and add up") {
    const Reading reading = read_moment(stance_from_mark({-0.6, 0.5}), {3.0, 8.0}, nhl, senior);
    const Coverage& coverage = reading.coverage.value();
    CHECK(coverage.short_side.goal_line_m >
          coverage.far_side.goal_line_m); // he stands to the left, the puck is right
    CHECK(coverage.covered * coverage.net_angle_rad + coverage.short_side.angle_rad +
              coverage.far_side.angle_rad ==
          doctest::Approx(coverage.net_angle_rad));
}

TEST_CASE("a goalie beyond the puck or behind the net hides nothing") {
    for (const IcePoint goalie : {IcePoint{0.0, 12.0}, IcePoint{0.0, -2.0}}) {
        const Coverage coverage =
            read_moment(stance_from_mark(goalie), {0.0, 8.0}, nhl, senior).coverage.value();
        CHECK(coverage.covered == 0.0);
        CHECK(coverage.net_seen == doctest::Approx(1.0));
        CHECK(coverage.short_side.goal_line_m + coverage.far_side.goal_line_m == doctest::Approx(1.8288));
    }
}

// A block w wide and h high at distance a from a puck b away straight out hides w b / a by h b / a of a mouth
// 6 by 4 ft.
TEST_CASE("net seen in height, by similar triangles") {
    Parameters parameters = senior;
    parameters.block_width_m = 0.6;
    parameters.block_height_m = 0.9;
    const Coverage coverage =
        read_moment(stance_from_mark({0.0, 1.0}), {0.0, 9.0}, nhl, parameters).coverage.value();
    const double grows = 9.0 / 8.0;
    CHECK(coverage.net_seen == doctest::Approx(1.0 - 0.6 * grows * 0.9 * grows / (1.8288 * 1.2192)));
    parameters.block_height_m = 1.9; // taller than the crossbar's shadow: only the width counts
    const Coverage tall =
        read_moment(stance_from_mark({0.0, 1.0}), {0.0, 9.0}, nhl, parameters).coverage.value();
    CHECK(tall.net_seen == doctest::Approx(1.0 - 0.6 * grows / 1.8288));
}

TEST_CASE("net seen of a slanted block agrees with counting rays") {
    Parameters parameters = senior;
    parameters.block_height_m = 0.9;
    const IcePoint puck{4.0, 6.0};
    const Stance stance = stance_from_skates({0.3, 1.2}, {0.8, 0.7});
    const IcePoint across = (stance.skates->at(1) - stance.skates->at(0)) *
                            (1.0 / distance(stance.skates->at(0), stance.skates->at(1)));
    int seen = 0, all = 0;
    for (int column = 0; column < 1000; ++column) {
        for (int row = 0; row < 400; ++row) {
            const IcePoint target{-0.9144 + 1.8288 * (column + 0.5) / 1000.0, 0.0};
            const double height = 1.2192 * (row + 0.5) / 400.0;
            const IcePoint ray = target - puck;
            const double t = cross(stance.goalie - puck, across) / cross(ray, across);
            const double along = dot(puck + ray * t - stance.goalie, across);
            const bool blocked =
                t > 0.0 && std::abs(along) <= parameters.block_width_m / 2.0 && height * t <= 0.9;
            seen += blocked ? 0 : 1;
            ++all;
        }
    }
    const double counted = static_cast<double>(seen) / all;
    CHECK(read_moment(stance, puck, nhl, parameters).coverage->net_seen ==
          doctest::Approx(counted).epsilon(0.003));
}

TEST_CASE("a puck on or behind the goal line has no net angle but a depth and a band") {
    for (const IcePoint puck :
         {IcePoint{5.0, 0.0}, IcePoint{-3.0, -2.0}, IcePoint{0.0, 0.0}, IcePoint{0.0, -3.0}}) {
        const Reading reading = read_moment(stance_from_mark({0.3, 0.2}), puck, nhl, senior);
        CHECK_FALSE(reading.coverage.has_value());
        CHECK(reading.band == Band::defensive);
        CHECK(all_finite(reading));
    }
}

TEST_CASE("no figure is ever NaN") {
    const std::initializer_list<double> places{-3.0,  -1.2192, -0.9144, -1e-12, 0.0, 1e-300,
                                               1e-12, 0.9144,  1.8288,  6.0,    30.0};
    for (const RuleBook& book : rule_books()) {
        for (const double puck_x : places) {
            for (const double puck_y : places) {
                for (const double x : places) {
                    for (const double y : places) {
                        CHECK(all_finite(
                            read_moment(stance_from_mark({x, y}), {puck_x, puck_y}, book, senior)));
                        const Stance stance = stance_from_skates({x - 0.3, y}, {x + 0.3, y});
                        CHECK(all_finite(read_moment(stance, {puck_x, puck_y}, book, senior)));
                    }
                }
            }
        }
    }
}

TEST_CASE("a goalie on top of the puck hides the whole net") {
    const Reading reading = read_moment(stance_from_mark({2.0, 3.0}), {2.0, 3.0}, nhl, senior);
    CHECK(reading.coverage->covered == doctest::Approx(1.0));
    CHECK(reading.reaction_s == 0.0);
}

TEST_CASE("reaction window: from puck to goalie at the shot's speed") {
    Parameters parameters = senior;
    parameters.shot_speed_mps = 38.888889; // 140 km/h over 10 m takes 0.257 s
    const Reading reading = read_moment(stance_from_mark({0.0, 1.0}), {0.0, 11.0}, nhl, parameters);
    CHECK(reading.reaction_s == doctest::Approx(0.257).epsilon(1e-3));
}

TEST_CASE("band odds") {
    const double edge = 1.8288;
    const auto sure = band_odds(1.2, 1.2 - edge, 0.0, senior);
    CHECK(sure == std::array<double, 4>{0.0, 1.0, 0.0, 0.0});
    // On the edge between conservative and base: half and half.
    const auto half = band_odds(edge - 0.30, -0.30, 0.05, senior);
    CHECK(half[1] == doctest::Approx(0.5));
    CHECK(half[2] == doctest::Approx(0.5));
    // One sigma above the upper base edge: 0.8413 of a normal curve lies below plus one sigma (standard
    // table).
    const auto above = band_odds(edge + 0.35, 0.35, 0.05, senior);
    CHECK(above[3] == doctest::Approx(0.841345).epsilon(1e-5));
    for (const double depth : {-1.0, 0.2, 0.45, 1.0, 1.5, 1.9, 2.5, 9.0}) {
        for (const double sigma : {0.0, 0.01, 0.3, 5.0}) {
            double sum = 0.0;
            for (const double odds : band_odds(depth, depth - edge, sigma, senior)) {
                CHECK(odds >= 0.0);
                sum += odds;
            }
            CHECK(sum == doctest::Approx(1.0));
        }
    }
}
