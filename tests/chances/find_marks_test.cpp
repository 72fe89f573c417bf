// Marks from made measurements, where each step can be told by itself.
#include "chances/find_marks.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace ropeline;

namespace {

/// A minute of a camera that holds still, nothing in view.
std::vector<Looked> quiet_minute() {
    std::vector<Looked> looks;
    for (int i = 0; i < 300; ++i)
        looks.push_back(
            {.at_s = look_step_s * i, .likeness = 0.95F, .likeness_of_four = 0.9F, .still = 10.0F});
    return looks;
}

void see_net(std::vector<Looked>& looks, double from_s, double to_s, float aside) {
    for (Looked& look : looks) {
        if (look.at_s < from_s || look.at_s > to_s) continue;
        look.net = 1.0F;
        look.net_x = aside;
        look.stir = 4.0F;
    }
}

Looked& at(std::vector<Looked>& looks, double s) {
    return looks[static_cast<std::size_t>(std::lround(s / look_step_s))];
}

/// Another picture from there.
void cut(std::vector<Looked>& looks, double s) {
    at(looks, s).likeness = 0.2F;
    for (int i = 0; i < 4; ++i)
        at(looks, s + look_step_s * i).likeness_of_four = 0.2F;
}

std::vector<Heard> with_whistle(double at_s) {
    std::vector<Heard> heard(static_cast<std::size_t>(60.0 / hearing_step_s));
    for (Heard& one : heard)
        one.loud_db = -30.0F;
    for (int i = 0; i < 20; ++i) {
        Heard& one = heard[static_cast<std::size_t>(at_s / hearing_step_s) + static_cast<std::size_t>(i)];
        one.tone = 0.8F;
        one.tone_hz = 3900.0F;
    }
    return heard;
}

} // namespace

TEST_CASE("a cut is a picture that has nothing of the one before") {
    auto looks = quiet_minute();
    cut(looks, 20.0);
    const auto cuts = cuts_of(looks);
    REQUIRE(cuts.size() == 1);
    CHECK(cuts[0] == doctest::Approx(20.0));
}

TEST_CASE("a flash is no cut: what comes after it is like what came before") {
    auto looks = quiet_minute();
    at(looks, 20.0).likeness = at(looks, 20.2).likeness = 0.2F;
    at(looks, 20.0).likeness_of_four = at(looks, 20.8).likeness_of_four = 0.2F;
    CHECK(cuts_of(looks).empty());
}

TEST_CASE("a quick pan is no cut: all its pictures have little of those before") {
    auto looks = quiet_minute();
    for (double s = 20.0; s < 23.0; s += look_step_s) {
        at(looks, s).likeness = 0.45F;
        at(looks, s).likeness_of_four = 0.15F;
        at(looks, s).shift_of_four_px = 150.0F;
    }
    CHECK(cuts_of(looks).empty());
}

TEST_CASE("a dissolve has no large step and no move, yet another picture at its end") {
    auto looks = quiet_minute();
    for (int i = 0; i < 3; ++i)
        at(looks, 20.0 + look_step_s * i).likeness = 0.7F;
    for (int i = 0; i < 6; ++i)
        at(looks, 20.0 + look_step_s * i).likeness_of_four = 0.2F;
    const auto cuts = cuts_of(looks);
    REQUIRE(cuts.size() == 1);
    CHECK(std::abs(cuts[0] - 20.0) < 0.7);
}

TEST_CASE("a net is in view while most looks see it, and a cut parts what it sees") {
    auto looks = quiet_minute();
    see_net(looks, 10.0, 20.0, 0.3F);
    at(looks, 14.0).net = 0.0F; // somebody stands before it
    at(looks, 40.0).net = 1.0F; // seen once: nothing
    const auto whole = nets_of(looks, {});
    REQUIRE(whole.size() == 1);
    CHECK(whole[0].first_s <= 10.0);
    CHECK(whole[0].last_s >= 20.0);
    CHECK(whole[0].last_s < 25.0);
    CHECK(nets_of(looks, std::vector{15.0}).size() == 2);
}

TEST_CASE("a net that players hide is followed by the camera's moves, some seconds and no farther than the "
          "picture's edge") {
    auto looks = quiet_minute();
    see_net(looks, 10.0, 12.0, 0.3F);
    const auto until_s = [&] { return nets_of(looks, cuts_of(looks)).at(0).last_s; };
    CHECK(std::abs(until_s() - 14.0) < 0.3); // hidden after 12 s, believed in for two more
    see_net(looks, 15.6, 20.0, 0.3F);
    CHECK(nets_of(looks, {}).size() == 1); // seen again: it was there all the time
    for (double s = 20.2; s < 22.0; s += look_step_s)
        at(looks, s).dx = 0.4F; // the camera leaves
    const auto nets = nets_of(looks, {});
    REQUIRE(nets.size() == 1);
    CHECK(std::abs(nets[0].last_s - 20.2) < 0.3);
    auto cut_off = quiet_minute();
    see_net(cut_off, 10.0, 12.0, 0.3F);
    cut(cut_off, 13.0);
    CHECK(nets_of(cut_off, cuts_of(cut_off)).at(0).last_s < 13.0);
}

TEST_CASE("they stand still where the picture changes much less than it usually does") {
    auto looks = quiet_minute();
    for (double s = 30.0; s < 34.0; s += look_step_s)
        at(looks, s).still = 1.0F;
    const auto still = still_of(looks);
    REQUIRE(still.size() == 1);
    CHECK(std::abs(still[0].first_s - 30.0) < 0.3);
    CHECK(std::abs(still[0].last_s - 34.0) < 0.3);
}

TEST_CASE("no net, no chance; with one, where it is nearest the picture's middle, where it stirs, before the "
          "whistle") {
    auto looks = quiet_minute();
    CHECK(marks_of(looks, {}, 0.0).chances.empty());
    see_net(looks, 20.0, 32.0, 0.8F);
    for (double s = 26.0; s < 27.0; s += look_step_s)
        at(looks, s).net_x = 0.1F;
    const auto near_middle = marks_of(looks, {}, 0.0).chances;
    REQUIRE_FALSE(near_middle.empty());
    const auto best = [](const std::vector<LikelyChance>& all) {
        return *std::ranges::max_element(all, {}, &LikelyChance::score);
    };
    CHECK(std::abs(best(near_middle).at_s - 26.5) < 1.0);
    for (double s = 30.0; s < 31.5; s += look_step_s)
        at(looks, s).stir = 40.0F, at(looks, s).net_x = 0.1F;
    CHECK(std::abs(best(marks_of(looks, {}, 0.0).chances).at_s - 30.7) < 1.0);
    auto level = quiet_minute();
    see_net(level, 20.0, 32.0, 0.5F);
    CHECK(std::abs(best(marks_of(level, with_whistle(28.0), 0.0).chances).at_s - 26.3) < 0.5);
}

TEST_CASE("likely chances keep apart, and stand in order") {
    auto looks = quiet_minute();
    see_net(looks, 5.0, 55.0, 0.1F);
    const auto chances = marks_of(looks, {}, 0.0).chances;
    REQUIRE(chances.size() > 3);
    for (std::size_t i = 1; i < chances.size(); ++i)
        CHECK(chances[i].at_s - chances[i - 1].at_s >= 3.99);
}

TEST_CASE("a film without a picture and one of a single look have no marks") {
    CHECK(marks_of({}, {}, 0.0).chances.empty());
    const std::vector<Looked> one(1);
    CHECK(marks_of(one, {}, 0.0).cuts_s.empty());
}
