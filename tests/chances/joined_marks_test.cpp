#include "chances/joined_marks.h"
#include "chances/packed_marks.h"

#include "demo/filming.h"
#include "rink/rule_book.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

using namespace ropeline;

namespace {

FilmMarks sample() {
    FilmMarks marks;
    marks.until_s = 100.0;
    marks.cuts_s = {10.0, 50.0};
    marks.net_in_view = {{5.0, 9.0}, {40.0, 60.0}};
    marks.whistles = {{61.0, 61.5}};
    marks.loud = {{58.0, 59.0}};
    marks.still = {{70.0, 75.0}};
    marks.chances = {{7.0, 0.4}, {55.0, 0.8}};
    return marks;
}

/// Two hours, as many marks as a busy broadcast has.
FilmMarks two_hours() {
    FilmMarks marks;
    marks.whole = true;
    marks.until_s = 7200.0;
    std::mt19937 random(1);
    std::uniform_real_distribution<double> apart(0.5, 1.5);
    for (double at = 8.0; at < 7200.0; at += 10.0 * apart(random))
        marks.cuts_s.push_back(at);
    for (double at = 8.0; at < 7100.0; at += 20.0 * apart(random))
        marks.net_in_view.push_back({at, at + 8.0});
    for (double at = 8.0; at < 7200.0; at += 30.0 * apart(random))
        marks.chances.push_back({at, apart(random) / 1.5});
    for (double at = 8.0; at < 7100.0; at += 50.0 * apart(random)) {
        marks.whistles.push_back({at, at + 0.6});
        marks.loud.push_back({at, at + 1.0});
        marks.still.push_back({at, at + 4.0});
    }
    return marks;
}

} // namespace

TEST_CASE("marks come back from their bytes to a fortieth of a second, and two hours are a few KB") {
    const FilmMarks marks = two_hours();
    const auto bytes = packed(marks);
    MESSAGE("two hours of marks are " << bytes.size() << " bytes");
    CHECK(bytes.size() < 8000);
    const auto back = unpacked(bytes);
    REQUIRE(back);
    CHECK(back->whole);
    CHECK(back->until_s == doctest::Approx(7200.0));
    REQUIRE(back->cuts_s.size() == marks.cuts_s.size());
    REQUIRE(back->chances.size() == marks.chances.size());
    REQUIRE(back->net_in_view.size() == marks.net_in_view.size());
    for (std::size_t i = 0; i < marks.cuts_s.size(); ++i)
        CHECK(std::abs(back->cuts_s[i] - marks.cuts_s[i]) <= 0.0251);
    for (std::size_t i = 0; i < marks.chances.size(); ++i)
        CHECK(std::abs(back->chances[i].score - marks.chances[i].score) <= 0.0051);
}

TEST_CASE("times below nought come back too: a stream may begin there") {
    FilmMarks marks;
    marks.cuts_s = {-1.5, -0.5, 2.0};
    const auto back = unpacked(packed(marks));
    REQUIRE(back);
    CHECK(back->cuts_s[0] == doctest::Approx(-1.5));
    CHECK(back->cuts_s[2] == doctest::Approx(2.0));
}

TEST_CASE("bytes that are cut off, spoilt or of another edition are no marks, and nothing worse") {
    auto bytes = packed(two_hours());
    for (std::size_t length = 0; length < bytes.size(); length += 97)
        CHECK_FALSE(unpacked(std::span(bytes).first(length)));
    std::mt19937 random(2);
    for (int round = 0; round < 2000; ++round) {
        auto spoilt = bytes;
        spoilt[random() % spoilt.size()] = static_cast<std::byte>(random());
        spoilt[random() % 8] = static_cast<std::byte>(random());
        const auto found = unpacked(spoilt);
        if (!found) continue;
        CHECK(found->cuts_s.size() + found->chances.size() < spoilt.size());
        CHECK(std::ranges::all_of(
            found->chances, [](const LikelyChance& one) { return one.score >= 0.0 && one.score <= 1.0; }));
    }
    bytes[0] = std::byte{99};
    CHECK_FALSE(unpacked(bytes));
}

TEST_CASE("a scan that goes on takes what was found before, and a stretch over the seam is one") {
    FilmMarks later;
    later.until_s = 200.0;
    later.whole = true;
    later.cuts_s = {48.0, 120.0};
    later.net_in_view = {{41.0, 64.0}, {150.0, 160.0}};
    later.chances = {{54.0, 0.9}, {155.0, 0.5}};
    const FilmMarks all = joined(cut_at(sample(), 52.0), later, 52.0);
    CHECK(all.whole);
    CHECK(all.cuts_s == std::vector{10.0, 50.0, 120.0});
    REQUIRE(all.net_in_view.size() == 3);
    CHECK(all.net_in_view[1].first_s == 40.0);
    CHECK(all.net_in_view[1].last_s == 64.0);
    REQUIRE(all.chances.size() == 3);
    CHECK(all.chances[1].at_s == 54.0);
}

TEST_CASE("where the rink is known it has the say on nets, and chances go with a net that is not there") {
    const std::vector<RinkKnown> known{{{50.0, 58.0}, false}, {{80.0, 90.0}, true}};
    const FilmMarks marks = with_known_rink(sample(), known);
    REQUIRE(marks.net_in_view.size() == 4);
    CHECK(marks.net_in_view[1].last_s == 50.0);
    CHECK(marks.net_in_view[2].first_s == 58.0);
    CHECK(marks.net_in_view[3].first_s == 80.0);
    REQUIRE(marks.chances.size() == 1);
    CHECK(marks.chances[0].at_s == 7.0);
}

TEST_CASE("a net is in the picture where the fit puts the middle of its mouth, at either end") {
    const RuleBook& rules = rule_book(RuleBookId::nhl);
    const auto fit_looking_at = [&](IcePoint at) {
        demo::PinholeCamera camera = demo::aimed({-24.0, 27.0, 11.0}, {at.x_m, at.y_m, 0.0}, 1750.0);
        std::vector<LandmarkClick> clicks;
        for (const IcePoint place :
             {at + IcePoint{-3.0, -3.0}, at + IcePoint{3.0, -3.0}, at + IcePoint{3.0, 3.0},
              at + IcePoint{-3.0, 3.0}, at + IcePoint{0.5, 1.0}})
            clicks.push_back(
                {demo::project(camera, demo::axes(camera), {place.x_m, place.y_m, 0.0}).at, place, ""});
        return fit_rink(clicks, camera.size);
    };
    CHECK(net_in_picture(fit_looking_at({0.0, 5.0}), rules));
    CHECK_FALSE(net_in_picture(fit_looking_at({0.0, 27.0}), rules));
    CHECK(net_in_picture(fit_looking_at({0.0, 50.0}), rules));
}

TEST_CASE("the next likely chance is gone to a little before it, and pressed again it is the one after") {
    const FilmMarks marks = sample();
    CHECK(next_chance_s(marks, 0.0) == std::optional{5.0});
    CHECK(next_chance_s(marks, 5.0) == std::optional{53.0});
    CHECK_FALSE(next_chance_s(marks, 53.0));
    CHECK(chance_before_s(marks, 60.0) == std::optional{53.0});
    CHECK(chance_before_s(marks, 53.0) == std::optional{5.0});
    CHECK_FALSE(chance_before_s(marks, 5.0));
}
