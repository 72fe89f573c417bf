// Several moments: the goalie's way taken apart, and set at the release.
#include "depth/sequence.h"
#include "rink/units.h"

#include <doctest/doctest.h>

using namespace ropeline;

namespace {

IcePoint polar(double angle_rad, double out_m) {
    return {out_m * std::sin(angle_rad), out_m * std::cos(angle_rad)};
}

} // namespace

TEST_CASE("a way is a turn about the net's middle and a way out") {
    const Way way = way_between(polar(-0.3, 1.0), polar(0.4, 1.6));
    CHECK(way.turn_rad == doctest::Approx(0.7)); // to the right
    CHECK(way.out_m == doctest::Approx(0.6));
    CHECK(way_between(polar(0.4, 1.6), polar(-0.3, 1.0)).turn_rad == doctest::Approx(-0.7));
    CHECK(way_between({0.0, 0.0}, polar(0.4, 1.0)).turn_rad == 0.0);
    // On one depth the way is the chord: 2 d sin(phi / 2).
    CHECK(way_between(polar(-0.83298 / 2, 2.0), polar(0.83298 / 2, 2.0)).length_m ==
          doctest::Approx(2.0 * 2.0 * std::sin(0.83298 / 2)));
}

TEST_CASE("angle before depth compares the shares done at the moment between") {
    const IcePoint from = polar(-0.4, 0.8), to = polar(0.4, 1.6);
    const auto turned_first = angle_before_depth(from, polar(0.4, 0.8), to).value();
    CHECK(turned_first.held);
    CHECK(turned_first.turn_share == doctest::Approx(1.0));
    CHECK(turned_first.out_share == doctest::Approx(0.0));
    const auto out_first = angle_before_depth(from, polar(-0.4, 1.6), to).value();
    CHECK_FALSE(out_first.held);
    const auto three_quarters = angle_before_depth(from, polar(0.2, 1.0), to).value();
    CHECK(three_quarters.turn_share == doctest::Approx(0.75));
    CHECK(three_quarters.out_share == doctest::Approx(0.25));
    // Straight across cuts inside the circle: the angle comes before the depth.
    CHECK(angle_before_depth(from, (from + to) * 0.5, to)->out_share < 0.5);
}

TEST_CASE("no order without a turn or without coming out") {
    CHECK_FALSE(angle_before_depth(polar(0.0, 0.8), polar(0.01, 1.2), polar(0.02, 1.6)).has_value());
    CHECK_FALSE(angle_before_depth(polar(-0.4, 1.0), polar(0.0, 1.0), polar(0.4, 1.05)).has_value());
    CHECK_FALSE(angle_before_depth(polar(-0.4, 1.6), polar(0.0, 1.2), polar(0.4, 0.8)).has_value());
}

TEST_CASE("set at the release: slower than 0.3 m/s between marks a few frames apart") {
    const double four_frames = 4.0 / 30.0;
    CHECK(set_at({0.0, 1.0}, {0.039, 1.0}, four_frames) == true);
    CHECK(set_at({0.0, 1.0}, {0.041, 1.0}, four_frames) == false);
    CHECK(speed_mps({0.0, 1.0}, {0.3, 1.4}, 0.5) == doctest::Approx(1.0));
    CHECK_FALSE(set_at({0.0, 1.0}, {0.0, 1.0}, 0.0).has_value());
    CHECK_FALSE(set_at({0.0, 1.0}, {0.0, 1.0}, -0.1).has_value());
    CHECK_FALSE(set_at({0.0, 1.0}, {0.0, 1.0}, 2.0).has_value());
}
