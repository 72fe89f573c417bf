#include "desk/state/clear_of.h"
#include "desk/state/close_up.h"
#include "desk/state/labels.h"
#include "desk/state/log_shape.h"
#include "desk/state/turn_view.h"
#include "desk/state/view_aim.h"

#include "desk/made_book.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using namespace ropeline;

namespace {

/// A book with one shot whose skates and puck are marked where the camera sees these places.
LogBook with_shot(const std::filesystem::path& path, IcePoint goalie, IcePoint puck) {
    LogBook book = test::begun(path);
    test::fit(book, 100);
    book.apply(NewShot{}, test::at(100));
    for (const IcePoint at : {goalie - IcePoint{0.25, 0.0}, goalie + IcePoint{0.25, 0.0}, puck})
        book.apply(FilmClick{test::seen(at)}, test::at(100));
    return book;
}

bool holds(const FilmView& view, ImagePoint at) {
    return view.panel.holds(view.to_screen(at));
}

} // namespace

TEST_CASE(
    "a shot is marked with the film as the window; the moment opens once the hand asks for nothing more") {
    const test::Folder folder;
    LogBook book = test::begun(folder.path / "one.season");
    CHECK(log_shape(book.state()) == LogShape::film);
    test::fit(book, 100);
    book.apply(BeginFit{}, test::at(100));
    CHECK(log_shape(book.state()) == LogShape::fit);
    book.apply(PutDown{}, test::at(100));
    book.apply(NewShot{}, test::at(100));
    CHECK(log_shape(book.state()) == LogShape::marking);
    for (const IcePoint at : {IcePoint{-0.2, 1.2}, IcePoint{0.3, 1.2}, IcePoint{3.0, 7.0}})
        book.apply(FilmClick{test::seen(at)}, test::at(100));
    CHECK(log_shape(book.state()) == LogShape::marking); // an opponent is asked for
    book.apply(Choose{1}, test::at(100));                // nobody: the card goes on
    CHECK(log_shape(book.state()) == LogShape::moment);
    book.apply(Arm{Hand::threat}, test::at(100));
    CHECK(log_shape(book.state()) == LogShape::marking);
    book.apply(FilmClick{test::seen({-4.0, 6.0})}, test::at(100));
    CHECK(log_shape(book.state()) == LogShape::moment);
    book.apply(TakeShot{}, test::at(100));
    CHECK(log_shape(book.state()) == LogShape::film);
}

TEST_CASE("moved in, net, goalie and puck are in sight and larger, and nothing beyond the picture is shown") {
    const test::Folder folder;
    for (const IcePoint puck : {IcePoint{2.0, 5.0}, IcePoint{-5.0, 8.0}, IcePoint{0.5, 14.0}}) {
        CAPTURE(puck.y_m);
        LogBook book = with_shot(folder.path / "one.season", {0.1, 1.3}, puck);
        book.apply(Choose{1}, test::at(100));
        const TurnView view =
            turn_view(book.state(), {book.state().revision, 100, {1280, 720}, {}, LengthUnit::metres});
        REQUIRE(view.play);
        FilmView whole;
        whole.panel = {0.0F, 100.0F, 792.0F, 560.0F};
        whole.shown = {1280, 720};
        const FilmView close = close_up(whole, *view.play);
        CHECK(close.zoom > 1.2);
        for (const IcePoint at : {IcePoint{-0.915, 0.0}, IcePoint{0.915, 0.0}, IcePoint{0.1, 1.3}, puck})
            CHECK(holds(close, test::seen(at)));
        const ScreenPoint top = close.to_screen({0.0, 0.0}), end = close.to_screen({1280.0, 720.0});
        CHECK(top.x <= close.panel.x + 0.5F);
        CHECK(top.y <= close.panel.y + 0.5F);
        CHECK(end.x >= close.panel.x + close.panel.width - 0.5F);
        CHECK(end.y >= close.panel.y + close.panel.height - 0.5F);
        book.apply(TakeShot{}, test::at(100));
        std::filesystem::remove(folder.path / "one.season");
    }
}

TEST_CASE("away from the moment's frame, and while something is marked, the picture is whole") {
    const test::Folder folder;
    LogBook book = with_shot(folder.path / "one.season", {0.1, 1.3}, {2.0, 5.0});
    const auto play_at = [&](std::int64_t frame) {
        return turn_view(book.state(), {book.state().revision, frame, {1280, 720}, {}, LengthUnit::metres})
            .play.has_value();
    };
    CHECK_FALSE(play_at(100)); // an opponent is asked for
    book.apply(Choose{1}, test::at(100));
    CHECK(play_at(100));
    CHECK(play_at(112));
    CHECK_FALSE(play_at(400));
}

TEST_CASE("the view moves in within its time, jumps where motion is off, and is left alone in the coach's "
          "own hand") {
    FilmView view;
    view.panel = {0.0F, 0.0F, 800.0F, 500.0F};
    view.shown = {1280, 720};
    const PictureBox play{500.0, 300.0, 700.0, 420.0};
    ViewAim aim;
    aim_view(aim, view, nullptr, {}, true);
    CHECK(view.zoom == 1.0);
    aim_view(aim, view, &play, "m1", true);
    CHECK(aim.on_its_way());
    double before = view.zoom;
    for (int turn = 0; turn < 9; ++turn) {
        pass_view_time(aim, move_in_s / 8.0);
        aim_view(aim, view, &play, "m1", true);
        CHECK(view.zoom >= before);
        before = view.zoom;
    }
    CHECK_FALSE(aim.on_its_way());
    FilmView whole = view;
    whole.zoom = 1.0;
    CHECK(view.zoom == close_up(whole, play).zoom);

    turn_to_whole(aim, view); // the whole frame is a key away, and so is the way back
    pass_view_time(aim, 1.0);
    aim_view(aim, view, &play, "m1", false);
    CHECK(view.zoom == 1.0);
    turn_to_whole(aim, view);
    aim_view(aim, view, &play, "m1", false);
    CHECK(view.zoom > 1.5);

    view = zoomed(view, 1.5, {400.0F, 250.0F});
    const double by_hand = view.zoom;
    aim_view(aim, view, &play, "m1", true);
    CHECK(view.zoom == by_hand);
    aim_view(aim, view, nullptr, {}, false); // the shot is done
    CHECK(view.zoom == 1.0);
    aim_view(aim, view, &play, "m2", false);
    CHECK(view.zoom > 1.5);
    CHECK_FALSE(aim.on_its_way());
}

TEST_CASE("a panel that changes its place under a view leaves the picture where it was looked at") {
    FilmView view;
    view.panel = {0.0F, 40.0F, 1200.0F, 700.0F};
    view.shown = {1280, 720};
    const FilmView moved = in_panel(zoomed(view, 2.5, {500.0F, 300.0F}), {0.0F, 140.0F, 792.0F, 560.0F});
    const FilmView before = zoomed(view, 2.5, {500.0F, 300.0F});
    const ImagePoint was = before.to_image({600.0F, 390.0F}), is = moved.to_image({396.0F, 420.0F});
    CHECK(is.x_px == doctest::Approx(was.x_px).epsilon(1e-5));
    CHECK(is.y_px == doctest::Approx(was.y_px).epsilon(1e-5));
    CHECK(moved.scale() == doctest::Approx(before.scale()));
}

TEST_CASE("labels step aside: inside their room, clear of every mark and of one another") {
    std::mt19937 random(7);
    const Rect room{20.0F, 30.0F, 640.0F, 420.0F};
    std::uniform_real_distribution<float> x(room.x - 60.0F, room.x + room.width + 60.0F);
    std::uniform_real_distribution<float> y(room.y - 60.0F, room.y + room.height + 60.0F);
    int placed = 0, all = 0;
    for (int times = 0; times < 500; ++times) {
        std::vector<Rect> keep_clear;
        for (int mark = 0; mark < 5; ++mark)
            keep_clear.push_back({x(random), y(random), 40.0F, 40.0F});
        std::vector<LabelWish> wishes;
        for (int label = 0; label < 6; ++label)
            wishes.push_back({{x(random), y(random)}, 150.0F, 26.0F});
        const auto places = place_labels(room, wishes, keep_clear, 8.0F);
        REQUIRE(places.size() == wishes.size());
        for (std::size_t one = 0; one < places.size(); ++one) {
            ++all;
            if (!places[one]) continue;
            ++placed;
            const Rect& at = *places[one];
            CHECK(at.x >= room.x);
            CHECK(at.y >= room.y);
            CHECK(at.x + at.width <= room.x + room.width + 0.01F);
            CHECK(at.y + at.height <= room.y + room.height + 0.01F);
            for (const Rect& mark : keep_clear)
                CHECK_FALSE(overlap(at, mark));
            for (std::size_t other = 0; other < one; ++other)
                if (places[other]) CHECK_FALSE(overlap(at, *places[other]));
        }
    }
    CHECK(placed > 0.98 * all);
}

TEST_CASE("a label stands as near as it can to what it names") {
    const Rect room{0.0F, 0.0F, 400.0F, 300.0F};
    const std::vector<LabelWish> wishes{{{200.0F, 150.0F}, 60.0F, 20.0F}};
    const auto free = place_labels(room, wishes, {}, 5.0F);
    REQUIRE(free[0]);
    CHECK(free[0]->y + free[0]->height == doctest::Approx(145.0F)); // over it
    const std::vector<Rect> over{{150.0F, 100.0F, 100.0F, 45.0F}};
    const auto aside = place_labels(room, wishes, over, 5.0F);
    REQUIRE(aside[0]);
    CHECK(aside[0]->y == doctest::Approx(155.0F)); // under it
    const std::vector<Rect> everywhere{room};
    CHECK_FALSE(place_labels(room, wishes, everywhere, 5.0F)[0]);
}

TEST_CASE("a line on the ice is drawn clear of skates and puck") {
    const std::vector<KeptClear> kept{{{0.0, 1.0}, 0.3}, {{0.0, 5.0}, 0.2}};
    const auto clear = clear_stretches({0.0, 0.0}, {0.0, 5.0}, kept);
    REQUIRE(clear.size() == 2);
    CHECK(clear[0].first == 0.0);
    CHECK(clear[0].second == doctest::Approx(0.7));
    CHECK(clear[1].first == doctest::Approx(1.3));
    CHECK(clear[1].second == doctest::Approx(4.8));
    CHECK(clear_stretches({-3.0, 0.0}, {3.0, 0.0}, kept).size() == 1); // passes them by
    CHECK(clear_stretches({0.0, 0.9}, {0.0, 1.1}, kept).empty());
}
