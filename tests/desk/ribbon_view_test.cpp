#include "desk/state/ribbon_view.h"

#include <doctest/doctest.h>

using namespace ropeline;

namespace {

FrameTable two_hours() {
    std::vector<Pts> pts;
    for (int frame = 0; frame < 2 * 3600 * 30; ++frame)
        pts.push_back({9000 + frame});
    return {pts, {1, 30}};
}

constexpr Rect strip{100.0F, 0.0F, 1000.0F, 20.0F};

} // namespace

TEST_CASE("the whole film stands on the ribbon from end to end") {
    const FrameTable frames = two_hours();
    const RibbonView view = whole_film(frames);
    CHECK(view.x_of(frames.seconds_of(FrameIndex{0}), strip) == doctest::Approx(100.0));
    CHECK(view.x_of(frames.seconds_of(FrameIndex{frames.count() - 1}), strip) == doctest::Approx(1100.0));
    CHECK(view.film_s_at(-50.0F, strip) == doctest::Approx(300.0));
}

TEST_CASE("closer keeps the time under the cursor in its place, down to single frames and no further") {
    const FrameTable frames = two_hours();
    RibbonView view = whole_film(frames);
    const double at_s = 300.0 + 3000.0;
    const float x = view.x_of(at_s, strip);
    view = ribbon_closer(view, 10.0, at_s, frames);
    CHECK(view.x_of(at_s, strip) == doctest::Approx(x));
    CHECK(view.last_s - view.first_s == doctest::Approx(720.0).epsilon(0.001));
    for (int turn = 0; turn < 20; ++turn)
        view = ribbon_closer(view, 4.0, at_s, frames);
    CHECK(view.last_s - view.first_s == doctest::Approx(12.0 / 30.0));
    CHECK(view.x_of(at_s, strip) == doctest::Approx(x).epsilon(0.01));
    for (int turn = 0; turn < 40; ++turn)
        view = ribbon_closer(view, 0.5, at_s, frames);
    CHECK(view.first_s == doctest::Approx(whole_film(frames).first_s));
    CHECK(view.last_s == doctest::Approx(whole_film(frames).last_s));
}

TEST_CASE("the ribbon turns its page when the playhead runs off it, either way") {
    const FrameTable frames = two_hours();
    const RibbonView view = ribbon_closer(whole_film(frames), 720.0, 1000.0, frames); // ten seconds
    CHECK(ribbon_following(view, view.first_s + 4.0, frames).first_s == view.first_s);
    const RibbonView on = ribbon_following(view, view.last_s + 0.1, frames);
    CHECK(on.x_of(view.last_s + 0.1, strip) == doctest::Approx(200.0).epsilon(0.001));
    const RibbonView back = ribbon_following(view, view.first_s - 0.1, frames);
    CHECK(back.x_of(view.first_s - 0.1, strip) == doctest::Approx(1000.0).epsilon(0.001));
    const RibbonView end = ribbon_following(view, whole_film(frames).last_s, frames);
    CHECK(end.last_s == doctest::Approx(whole_film(frames).last_s));
}

TEST_CASE("labels stand apart by their room and come in lengths people count in") {
    const FrameTable frames = two_hours();
    CHECK(ribbon_tick_s(whole_film(frames), strip, 80.0F) == 600.0);
    CHECK(ribbon_tick_s({0.0, 1.0}, strip, 80.0F) == 0.1);
}

TEST_CASE(
    "stretches stand on the strip from end to end, a pixel wide at least, and those that touch are one") {
    const RibbonView view{0.0, 1000.0}; // a second a pixel
    const std::vector<Stretch> stretches{
        {-50.0, 5.0}, {100.0, 120.0}, {120.5, 130.0}, {400.0, 400.1}, {2000.0, 2100.0}};
    const auto spans = spans_on(view, strip, stretches);
    REQUIRE(spans.size() == 3);
    CHECK(spans[0].from == 100.0F);
    CHECK(spans[0].to == doctest::Approx(105.0));
    CHECK(spans[1].from == doctest::Approx(200.0));
    CHECK(spans[1].to == doctest::Approx(230.0));
    CHECK(spans[2].to - spans[2].from >= 0.99F);
}

TEST_CASE("cuts are ticks close up, and left out where they would be a hatching") {
    std::vector<double> cuts;
    for (double at = 0.0; at < 1000.0; at += 1.0)
        cuts.push_back(at);
    CHECK(ticks_on({0.0, 100.0}, strip, cuts, 3.0F).size() == 101);
    CHECK(ticks_on({0.0, 1000.0}, strip, cuts, 3.0F).empty());
    CHECK(ticks_on({2000.0, 3000.0}, strip, cuts, 3.0F).empty());
}

TEST_CASE("what lies under the cursor is said in words") {
    FilmMarks marks;
    marks.net_in_view = {{10.0, 20.0}};
    marks.whistles = {{19.0, 19.5}};
    marks.chances = {{17.0, 0.8}};
    marks.cuts_s = {40.0};
    CHECK(words_at(marks, 17.2, 0.5) == "likely chance, net in view");
    CHECK(words_at(marks, 19.2, 0.5) == "net in view, whistle");
    CHECK(words_at(marks, 39.8, 0.5) == "cut");
    CHECK(words_at(marks, 30.0, 0.5).empty());
}
