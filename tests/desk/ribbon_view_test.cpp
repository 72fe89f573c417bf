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
