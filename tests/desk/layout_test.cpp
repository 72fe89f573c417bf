#include "desk/state/layout.h"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <iterator>
#include <vector>

using namespace ropeline;

namespace {

bool inside(const Rect& inner, float width, float height) {
    return inner.x >= -0.01F && inner.y >= -0.01F && inner.width >= 0.0F && inner.height >= 0.0F &&
           inner.x + inner.width <= width + 0.01F && inner.y + inner.height <= height + 0.01F;
}

bool apart(const Rect& a, const Rect& b) {
    return a.x + a.width <= b.x + 0.01F || b.x + b.width <= a.x + 0.01F || a.y + a.height <= b.y + 0.01F ||
           b.y + b.height <= a.y + 0.01F;
}

} // namespace

TEST_CASE("the panels of the Log side lie inside the window and never over one another") {
    struct Case {
        float width, height, unit;
    };
    for (const Case& c : {Case{1280, 720, 16}, Case{1920, 1080, 16}, Case{1920, 1080, 24},
                          Case{3840, 2160, 32}, Case{900, 560, 16}}) {
        CAPTURE(c.width);
        CAPTURE(c.unit);
        const LogLayout at = log_layout(c.width, c.height, c.unit);
        const Rect panels[] = {at.header, at.film, at.ribbon, at.keys, at.card, at.plan, at.reading, at.list};
        for (const Rect& panel : panels)
            CHECK(inside(panel, c.width, c.height));
        for (std::size_t a = 0; a < std::size(panels); ++a) {
            for (std::size_t b = a + 1; b < std::size(panels); ++b)
                CHECK(apart(panels[a], panels[b]));
        }
        CHECK(inside(at.fit_plan, c.width, c.height));
        CHECK(inside(at.fit_card, c.width, c.height));
        CHECK(apart(at.fit_plan, at.fit_card));
    }
}

TEST_CASE(
    "the shot list has room to read: in a low window while no shot is worked on, in a high one always") {
    const float row = 1.44F * 16.0F;
    const LogLayout low = log_layout(1280, 720, 16.0F, 0, true);
    CHECK(low.list.height > 20.0F * row);
    CHECK(inside(low.list, 1280, 720));
    CHECK(apart(low.list, low.card));
    CHECK(apart(low.list, low.film));
    CHECK(low.plan.height == 0.0F);
    const LogLayout high = log_layout(1920, 1080, 16.0F, 0, true);
    const LogLayout working = log_layout(1920, 1080, 16.0F);
    CHECK(high.list.height > 10.0F * row);
    CHECK(high.list.y == working.list.y);
    CHECK(high.plan.height == working.plan.height);
}

TEST_CASE(
    "the other films of a game get a thin line each, under the ribbon's own and apart from one another") {
    for (const int others : {1, 2, 3, 7}) {
        CAPTURE(others);
        const LogLayout one = log_layout(1280, 720, 16);
        const LogLayout at = log_layout(1280, 720, 16, others);
        CHECK(apart(at.film, at.ribbon));
        CHECK(apart(at.ribbon, at.keys));
        CHECK(apart(at.decision, at.ribbon));
        CHECK(at.film.height > 0.7F * one.film.height); // the picture keeps its place
        for (int line = 0; line < others; ++line) {
            const Rect row = other_film_line(at.ribbon, 16, others, line);
            CHECK(row.y >= at.ribbon.y + one.ribbon.height - 4.0F); // under the ribbon of one film alone
            CHECK(row.y + row.height <= at.ribbon.y + at.ribbon.height + 0.01F);
            if (line > 0) CHECK(apart(row, other_film_line(at.ribbon, 16, others, line - 1)));
        }
    }
}

TEST_CASE("film view: window to picture and back is exact, at any zoom") {
    FilmView view;
    view.panel = {10, 40, 900, 500};
    view.shown = {1280, 720};
    for (const double factor : {1.0, 2.0, 5.0}) {
        view = zoomed(view, factor, {300, 200});
        const ImagePoint at{412.25, 633.75};
        const ImagePoint back = view.to_image(view.to_screen(at));
        CHECK(back.x_px == doctest::Approx(at.x_px).epsilon(1e-5));
        CHECK(back.y_px == doctest::Approx(at.y_px).epsilon(1e-5));
    }
}

TEST_CASE("zooming keeps the picture point under the cursor where it is") {
    FilmView view;
    view.panel = {0, 0, 1000, 600};
    view.shown = {1920, 1080};
    const ScreenPoint cursor{720, 150};
    const ImagePoint before = view.to_image(cursor);
    const ImagePoint after = zoomed(view, 3.0, cursor).to_image(cursor);
    CHECK(after.x_px == doctest::Approx(before.x_px).epsilon(1e-6));
    CHECK(after.y_px == doctest::Approx(before.y_px).epsilon(1e-6));
    CHECK(zoomed(view, 1000.0, cursor).zoom == 16.0);
    CHECK(zoomed(view, 0.01, cursor).zoom == 1.0);
}

TEST_CASE("the whole picture fits its panel and keeps its shape") {
    FilmView view;
    view.panel = {0, 0, 900, 900};
    view.shown = {1280, 720};
    const ScreenPoint top = view.to_screen({0, 0});
    const ScreenPoint bottom = view.to_screen({1280, 720});
    CHECK(top.x == doctest::Approx(0.0).epsilon(1e-6));
    CHECK(bottom.x == doctest::Approx(900.0).epsilon(1e-6));
    CHECK((bottom.y - top.y) == doctest::Approx(900.0 * 9 / 16).epsilon(1e-4));
}

TEST_CASE("plan: the net is at the bottom and the goalie's right hand side is on the right") {
    PlanView plan;
    plan.panel = {100, 100, 300, 280};
    const ScreenPoint net = plan.to_screen({0.0, 0.0});
    CHECK(plan.to_screen({0.0, 10.0}).y < net.y);
    CHECK(plan.to_screen({3.0, 0.0}).x > net.x);
    const IcePoint back = plan.to_ice(plan.to_screen({-4.5, 7.25}));
    CHECK(back.x_m == doctest::Approx(-4.5).epsilon(1e-4));
    CHECK(back.y_m == doctest::Approx(7.25).epsilon(1e-4));
}

TEST_CASE("the plan shows the play as large as it can: net and every place of it lie inside, and the whole "
          "end without one") {
    const Rect panel{100.0F, 50.0F, 254.0F, 150.0F};
    const PlanView whole = plan_of_play(panel, {});
    CHECK(whole.up_ice_m == PlanView{}.up_ice_m);
    const std::vector<IcePoint> play = {{5.0, 9.0}, {-4.0, 7.0}};
    const PlanView near = plan_of_play(panel, play);
    CHECK(near.scale() > 1.5 * whole.scale());
    for (const IcePoint at :
         {IcePoint{5.0, 9.0}, IcePoint{-4.0, 7.0}, IcePoint{0.0, 0.0}, IcePoint{0.0, 4.0}}) {
        CHECK(panel.holds(near.to_screen(at)));
        const IcePoint back = near.to_ice(near.to_screen(at));
        CHECK(std::abs(back.x_m - at.x_m) < 1e-3);
        CHECK(std::abs(back.y_m - at.y_m) < 1e-3);
    }
    const std::vector<IcePoint> behind = {{3.0, -1.5}};
    CHECK(panel.holds(plan_of_play(panel, behind).to_screen({3.0, -1.5})));
    const std::vector<IcePoint> far = {{12.0, 40.0}}; // beyond the end that is ever shown
    CHECK(plan_of_play(panel, far).scale() == whole.scale());
}
