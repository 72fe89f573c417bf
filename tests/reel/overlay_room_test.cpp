#include "reel/overlay_room.h"

#include "reel/filmed_season.h"

#include <doctest/doctest.h>

namespace ropeline {

TEST_CASE("of several boxes the first is taken that hides nobody, else the one that hides least") {
    const Box foot{0, 80, 100, 20}, left{0, 60, 50, 40}, right{50, 60, 50, 40};
    const Box boxes[] = {foot, left, right};
    const Box far_up{40, 10, 10, 20}, low_left{10, 70, 20, 30}, low_middle{40, 85, 15, 15};
    CHECK(clearest(boxes, {}) == 0);
    CHECK(clearest(boxes, std::vector{far_up}) == 0);
    CHECK(clearest(boxes, std::vector{low_left}) == 2);
    CHECK(clearest(boxes, std::vector{low_middle}) ==
          2); // 5 of his 15 columns, where left hides 10 and foot 15
}

TEST_CASE("who is marked stands in a box of his own, as tall as a player; without a fit nobody is known") {
    const test::FilmedSeason filmed;
    const ShownPlay play = filmed.play();
    ShownMoment shown = play.moments.front();
    const OnCanvas twice{10.0, 0.0, 2.0, 720.0, {640, 360}};
    const auto people = people_in(twice, shown);
    REQUIRE(people.size() == 3); // goalie, puck, receiver
    const ImagePoint skates = test::camera_sees({-0.6, 1.9});
    CHECK(people[0].x + 0.5 * people[0].width == doctest::Approx(10.0 + 2.0 * skates.x_px).epsilon(0.005));
    CHECK(people[0].y < 2.0 * skates.y_px - 120.0); // a metre is 76 pixels there
    CHECK(people[0].y + people[0].height > 2.0 * skates.y_px);
    CHECK_FALSE(overlap(people[0], people[2]));
    shown.fit.reset();
    CHECK(people_in(twice, shown).empty());
}

} // namespace ropeline
