// The goal mouth in the puck's eye.
#include "depth/any_play.h"
#include "depth/net_seen.h"
#include "depth/usual.h"
#include "rink/units.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>

using namespace ropeline;
using namespace ropeline::any;
using namespace ropeline::usual;

namespace {

double area(const std::vector<MouthPoint>& outline) {
    double twice = 0.0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const MouthPoint p = outline[i], q = outline[(i + 1) % outline.size()];
        twice += p.x_m * q.up_m - q.x_m * p.up_m;
    }
    return std::abs(twice) / 2.0;
}

} // namespace

TEST_CASE("the shadow of a square block, by similar triangles") {
    // Puck straight out at 9 m, block 0.6 x 0.9 m at 1 m: everything grows by 9 / 8 on the goal line.
    const NetSeen seen = net_seen(stance_from_mark({0.0, 1.0}), {0.0, 9.0}, nhl, 0.6, 0.9).value();
    REQUIRE(seen.shadow.size() == 4);
    for (const MouthPoint& corner : seen.shadow) {
        CHECK(std::abs(corner.x_m) == doctest::Approx(0.3 * 9.0 / 8.0));
        CHECK((corner.up_m == 0.0 || corner.up_m == doctest::Approx(0.9 * 9.0 / 8.0)));
    }
    CHECK(seen.share == doctest::Approx(1.0 - 0.6 * 0.9 * 81.0 / 64.0 / (1.8288 * 1.2192)));
}

TEST_CASE("what the outline leaves is the share in sight") {
    CHECK(rc::check([] {
        const IcePoint puck{between(-10.0, 10.0), between(0.2, 18.0)};
        const IcePoint left{between(-2.0, 2.0), between(0.0, 3.0)};
        const double facing = between(-1.2, 1.2);
        const Stance stance =
            stance_from_skates(left, left + IcePoint{std::cos(facing), std::sin(facing)} * 0.6);
        const double width = between(0.4, 1.7), height = between(0.5, 1.9);
        const NetSeen seen = net_seen(stance, puck, nhl, width, height).value();
        const double mouth = 2.0 * nhl.post_half_gap.m * nhl.net_height.m;
        RC_ASSERT(std::abs(seen.share - (1.0 - area(seen.shadow) / mouth)) < 1e-9);
        for (const MouthPoint& corner : seen.shadow) {
            RC_ASSERT(std::abs(corner.x_m) <= nhl.post_half_gap.m + 1e-9);
            RC_ASSERT(corner.up_m >= -1e-9 && corner.up_m <= nhl.net_height.m + 1e-9);
        }
    }));
}

TEST_CASE("a goalie on the puck leaves nothing, a puck below the goal line sees nothing") {
    CHECK(net_seen(stance_from_mark({2.0, 3.0}), {2.0, 3.0}, nhl, 0.85, 1.2)->share < 1e-12);
    CHECK_FALSE(net_seen(stance_from_mark({0.5, 0.2}), {2.0, -0.5}, nhl, 0.85, 1.2).has_value());
    CHECK(net_seen(stance_from_mark({0.0, 12.0}), {0.0, 8.0}, nhl, 0.85, 1.2)->shadow.empty());
}

TEST_CASE("the puck's eye: posts where the angle says, the far one smaller") {
    const IcePoint puck{from_feet(22), from_feet(20)};
    const double half = nhl.post_half_gap.m;
    const EyePoint near_post = eye_point(puck, {half, 0.0}, 0.0).value(),
                   far_post = eye_point(puck, {-half, 0.0}, 0.0).value();
    // 4.195 degrees to the near post, 3.614 to the far one: worked by hand. Seen from the right of the ice,
    // the near post is on the left.
    CHECK(std::abs(to_degrees(std::atan(near_post.right)) + 4.195) < 6e-4);
    CHECK(std::abs(to_degrees(std::atan(far_post.right)) - 3.614) < 6e-4);
    CHECK(eye_point(puck, {half, 0.0}, 1.2192)->up > eye_point(puck, {-half, 0.0}, 1.2192)->up);
    CHECK_FALSE(eye_point(puck, puck * 1.2, 0.0).has_value());
    CHECK_FALSE(eye_point(puck, puck, 0.0).has_value());
}
