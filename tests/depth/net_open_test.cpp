// What a shot finds open, against geometry worked by hand: similar triangles, no program of ours.
#include "depth/net_open.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace ropeline;

namespace {

/// A goalie 0.8 m wide and high enough for any mouth, in front of a mouth of 2 x 1.2 m, who reaches nothing.
Blocking plain() {
    Blocking blocking;
    blocking.half_width_m = 0.4;
    blocking.height_m = 10.0;
    blocking.shot_s_per_m = 1.0 / 30.0;
    blocking.half_gap_m = 1.0;
    blocking.net_height_m = 1.2;
    blocking.per_mouth_m2 = 1.0 / (2.0 * 1.2);
    blocking.half_line_m = 0.025;
    return blocking;
}
double open_from(IcePoint puck, IcePoint goalie, const Blocking& blocking, double see_s = 0.25) {
    return net_open(shooter_at(puck, see_s), goalie, blocking);
}

} // namespace

TEST_CASE("straight out, half way: twice his width is hidden") {
    // 0.8 m at 5 of 10 m throws 1.6 m of shadow on 2 m: a fifth stays open.
    CHECK(open_from({0, 10}, {0, 5}, plain()) == doctest::Approx(0.2));
    CHECK(open_from({0, 10}, {0, 2}, plain()) == doctest::Approx(0.5)); // 0.8 * 10 / 8 = 1
    // Beside the line by 0.5 m at half way: the shadow lies 1 m over, half of it in the mouth; square to the
    // puck he stands turned by atan(0.5 / 5), so its near end lies at (0.5 - 0.4 cos) / (5 + 0.4 sin) * 10.
    const double turn = std::atan(0.1),
                 edge = 10.0 * (0.5 - 0.4 * std::cos(turn)) / (5 + 0.4 * std::sin(turn));
    CHECK(open_from({0, 10}, {0.5, 5}, plain()) == doctest::Approx(1.0 - (1.0 - edge) / 2.0).epsilon(1e-6));
}

TEST_CASE("a low block hides under the line over its top") {
    Blocking low = plain();
    low.height_m = 0.3;
    // From 10 m, at 5 m: hidden 1.6 m wide and 0.6 m high of 2 x 1.2 m.
    CHECK(open_from({0, 10}, {0, 5}, low) == doctest::Approx(1.0 - 1.6 * 0.6 / 2.4));
}

TEST_CASE("reach grows with the shot's way, up to the most") {
    Blocking reaching = plain();
    reaching.reach_speed_mps = 1.2;
    reaching.reach_most_m = 0.45;
    CHECK(reach_m(6.0, 0.25, reaching) == 0.0); // 0.2 s of flight: not seen yet
    CHECK(reach_m(15.0, 0.25, reaching) == doctest::Approx(1.2 * 0.25));
    CHECK(reach_m(60.0, 0.25, reaching) == 0.45);
    CHECK(reach_m(15.0, 0.40, reaching) == doctest::Approx(1.2 * 0.10)); // a screen
}

TEST_CASE("no shot from behind the goal line, nothing hidden from beyond the puck") {
    CHECK(open_from({3, 0}, {0.5, 0.3}, plain()) == 0.0);
    CHECK(open_from({3, -1}, {0.5, 0.3}, plain()) == 0.0);
    CHECK(open_from({0, 5}, {0, 5.5}, plain()) == 1.0);
    CHECK(open_from({0, 5}, {0, 5}, plain()) == 1.0);
}

TEST_CASE("what of him stands behind the goal line hides nothing") {
    // On the line's middle for a puck at 45 degrees: his half on the puck's side is in the net, so the near
    // half of the mouth is open; the other half's end, 0.4 m out at 45 degrees, hides the far side up to
    // 0.4 cos 45 / (1 - 0.4 sin 45 / 5) of 1 m.
    const double out = 0.4 * std::sqrt(0.5);
    const double hidden = out + (5.0 + out) * out / (5.0 - out);
    const double paint_m = 0.05; // the half of the line's paint behind its middle, thrown onto the mouth
    CHECK(std::abs(open_from({5, 5}, {0, 0}, plain()) - (1.0 - hidden / 2.0)) < paint_m / 2.0);
    CHECK(open_from({0, 5}, {0, -0.5}, plain()) == 1.0);
}
