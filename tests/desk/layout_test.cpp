#include "desk/state/layout.h"

#include <doctest/doctest.h>

#include <algorithm>
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

struct Window {
    float width, height, unit;
};

constexpr Window usual_windows[] = {{1280, 720, 16}, {1440, 900, 16}, {1920, 1080, 18}, {3840, 2160, 36}};

} // namespace

TEST_CASE(
    "the panels of the Log side lie inside the window and never over one another, whatever it is about") {
    for (const Window& c :
         {Window{1280, 720, 16}, Window{1280, 720, 18}, Window{1440, 900, 16}, Window{1920, 1080, 18},
          Window{1920, 1080, 27}, Window{3840, 2160, 36}, Window{3840, 2160, 54}, Window{900, 560, 14}}) {
        for (const LogShape shape : {LogShape::film, LogShape::marking, LogShape::moment, LogShape::fit}) {
            CAPTURE(c.width);
            CAPTURE(c.unit);
            CAPTURE(static_cast<int>(shape));
            const LogLayout at = log_layout(c.width, c.height, c.unit, shape);
            const Rect panels[] = {at.header,   at.film, at.ribbon,   at.keys,     at.side,
                                   at.headline, at.plan, at.question, at.fit_plan, at.fit_card};
            for (const Rect& panel : panels)
                CHECK(inside(panel, c.width, c.height));
            for (std::size_t a = 0; a < std::size(panels); ++a) {
                for (std::size_t b = a + 1; b < std::size(panels); ++b)
                    CHECK(apart(panels[a], panels[b]));
            }
        }
        for (const bool on_film : {true, false}) {
            const StudyLayout study = study_layout(c.width, c.height, c.unit, true, on_film);
            const Rect panels[] = {study.film, study.decision, study.ribbon,
                                   study.card, study.plan,     study.keys};
            for (std::size_t a = 0; a < std::size(panels); ++a) {
                CHECK(inside(panels[a], c.width, c.height));
                for (std::size_t b = a + 1; b < std::size(panels); ++b)
                    CHECK(apart(panels[a], panels[b]));
            }
        }
    }
}

TEST_CASE(
    "nothing open: the picture fills most of the window, and stays where it is while a shot is marked") {
    for (const Window& window : usual_windows) {
        CAPTURE(window.width);
        const auto& [width, height, unit] = window;
        const LogLayout at = log_layout(width, height, unit, LogShape::film);
        const float picture = std::min(at.film.width / 16.0F, at.film.height / 9.0F);
        CHECK(picture * picture * 16.0F * 9.0F >= 0.60F * width * height);
        CHECK(at.side.width >= 13.0F * unit); // for the narrow list
        const LogLayout marking = log_layout(width, height, unit, LogShape::marking);
        CHECK(marking.film.x == at.film.x);
        CHECK(marking.film.y == at.film.y);
        CHECK(marking.film.width == at.film.width);
        CHECK(marking.film.height == at.film.height);
    }
}

TEST_CASE("a moment opened: film and crease share the window, and the plan is large") {
    for (const Window& window : usual_windows) {
        CAPTURE(window.width);
        const auto& [width, height, unit] = window;
        const LogLayout at = log_layout(width, height, unit, LogShape::moment);
        CHECK(at.plan.width >= 0.40F * width);
        CHECK(at.plan.height >= 0.54F * height);
        CHECK(at.film.width >= 0.50F * width);
    }
}

TEST_CASE(
    "text reads from two metres: headline, figures and body have their share of every window's height") {
    for (const float height : {560.0F, 720.0F, 900.0F, 1080.0F, 1440.0F, 2160.0F}) {
        for (const float wanted : {11.0F, 16.0F, 24.0F, 48.0F}) {
            CAPTURE(height);
            CAPTURE(wanted);
            const TypeSizes type = type_sizes(height, wanted);
            CHECK(capital_share * type.hero >= height / 28.0F);
            CHECK(capital_share * type.fact >= height / 45.0F);
            CHECK(type.body >= height / 60.0F);
            CHECK(type.body <= std::max(11.0F, height / 40.0F));
            CHECK(type.fact > type.body);
            CHECK(type.hero > type.fact);
            CHECK(type_sizes(height, type.body) == type); // it stands
        }
    }
    CHECK(type_sizes(720.0F, 16.0F).body == 16.0F); // the coach's own size where it reads
}

TEST_CASE(
    "the other films of a game get a thin line each, under the ribbon's own and apart from one another") {
    for (const int others : {1, 2, 3, 7}) {
        CAPTURE(others);
        const LogLayout one = log_layout(1280, 720, 16, LogShape::moment);
        const LogLayout at = log_layout(1280, 720, 16, LogShape::moment, others);
        CHECK(apart(at.film, at.ribbon));
        CHECK(apart(at.ribbon, at.keys));
        CHECK(apart(at.question, at.ribbon));
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
    CHECK(plan_of_play(panel, far).up_ice_m == whole.up_ice_m);
    CHECK(plan_of_play(panel, far).right_m >= 12.0);
    CHECK(plan_of_play(panel, far).right_m <= whole.right_m);
}

TEST_CASE("the plan lies as the film lies, turned by quarters and never mirrored") {
    const Rect panel{10.0F, 20.0F, 500.0F, 400.0F};
    const std::vector<IcePoint> play = {{2.0, 6.0}, {-3.0, 5.0}};
    const auto towards = [&](NetAt net, IcePoint way) {
        const PlanView plan = plan_of_play(panel, play, net);
        const ScreenPoint from = plan.to_screen({0.0, 1.0}), to = plan.to_screen(IcePoint{0.0, 1.0} + way);
        return ScreenPoint{to.x - from.x, to.y - from.y};
    };
    const IcePoint up_ice{0.0, 1.0}, his_right{1.0, 0.0};
    CHECK(towards(NetAt::bottom, up_ice).y < -1.0F);
    CHECK(towards(NetAt::left, up_ice).x > 1.0F);
    CHECK(towards(NetAt::top, up_ice).y > 1.0F);
    CHECK(towards(NetAt::right, up_ice).x < -1.0F);
    for (const NetAt net : {NetAt::bottom, NetAt::left, NetAt::top, NetAt::right}) {
        CAPTURE(static_cast<int>(net));
        const ScreenPoint up = towards(net, up_ice), right = towards(net, his_right);
        CHECK(right.x * up.y - right.y * up.x <
              0.0F); // seen from above: up-ice is a left turn from his right
        const PlanView plan = plan_of_play(panel, play, net);
        for (const IcePoint at : {IcePoint{0.0, 0.0}, IcePoint{2.0, 6.0}, IcePoint{-3.0, 5.0}}) {
            CHECK(panel.holds(plan.to_screen(at)));
            const IcePoint back = plan.to_ice(plan.to_screen(at));
            CHECK(std::abs(back.x_m - at.x_m) < 1e-3);
            CHECK(std::abs(back.y_m - at.y_m) < 1e-3);
        }
    }
    // A camera at the side with the net on the left of its picture has up-ice on its right.
    CHECK(net_as_filmed({0.1, 1.0}) == NetAt::left);
    CHECK(net_as_filmed({-0.2, -1.0}) == NetAt::right);
    CHECK(net_as_filmed({1.0, 0.5}) == NetAt::bottom);
    CHECK(net_as_filmed({-1.0, 0.5}) == NetAt::top);
}

TEST_CASE("the loupe lies inside the panel and beside the net rather than over it") {
    const Rect panel{0.0F, 50.0F, 1000.0F, 600.0F};
    const auto over = [](const Rect& one, const Rect& other) {
        return one.x < other.x + other.width && other.x < one.x + one.width &&
               one.y < other.y + other.height && other.y < one.y + one.height;
    };
    for (float x = 5.0F; x < 1000.0F; x += 45.0F) {
        for (float y = 55.0F; y < 650.0F; y += 45.0F) {
            const Rect net{x + 10.0F, y - 60.0F, 90.0F, 70.0F}; // a post is clicked
            const Rect at = loupe_place(panel, {x, y}, 150.0F, 30.0F, net);
            CHECK(at.x >= panel.x);
            CHECK(at.y >= panel.y);
            CHECK(at.x + at.width <= panel.x + panel.width);
            CHECK(at.y + at.height <= panel.y + panel.height);
            if (y < 460.0F) CHECK_FALSE(over(at, net)); // below there is no room under the mouse
        }
    }
}
