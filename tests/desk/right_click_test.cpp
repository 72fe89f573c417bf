// What the right button offers, and shots that are moved: by value, without a window.
#include "desk/made_book.h"
#include "desk/state/changes/placing.h"
#include "desk/state/ribbon_view.h"
#include "desk/state/right_click.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace ropeline;
using namespace ropeline::test;

namespace {

/// A shot at frame 100 with skates, puck and an opponent, by a fit on frame 90.
LogBook with_marked_shot(const std::filesystem::path& path) {
    LogBook book = begun(path);
    fit_still(book, 90);
    book.apply(NewShot{}, at(100));
    for (const IcePoint place :
         {IcePoint{-0.2, 1.2}, IcePoint{0.2, 1.3}, IcePoint{3.0, 7.0}, IcePoint{-4.0, 5.0}})
        book.apply(FilmClick{seen(place)}, at(100));
    REQUIRE(book.state().shots[0].moments[0].marks.size() == 4);
    return book;
}

std::optional<std::size_t> mark_of(const LogBook& book, MarkKind kind) {
    const auto& marks = book.state().shots[0].moments[0].marks;
    const auto found = std::ranges::find(marks, kind, &Mark::kind);
    if (found == marks.end()) return std::nullopt;
    return static_cast<std::size_t>(found - marks.begin());
}

bool offers(const std::vector<MenuEntry>& entries, Command command) {
    return std::ranges::any_of(entries, [&](const MenuEntry& one) {
        const auto* does = std::get_if<Command>(&one.does);
        return does && *does == command;
    });
}

FrameTable frames_of_thirty_seconds() {
    std::vector<Pts> pts;
    for (std::int64_t frame = 0; frame < 900; ++frame)
        pts.push_back({frame});
    return FrameTable{std::move(pts), {1, 30}};
}

} // namespace

TEST_CASE(
    "the right button offers what the mark under it can take, and every command is valid over the film") {
    const Folder folder;
    LogBook book = with_marked_shot(folder.path / "a.season");
    const LogState& log = book.state();
    const auto on_threat = menu_at(log, {mark_of(book, MarkKind::threat), {}});
    CHECK(offers(on_threat, Command::how_he_shoots));
    CHECK(offers(on_threat, Command::remove));
    const auto on_skate = menu_at(log, {mark_of(book, MarkKind::skate_left), {}});
    CHECK(offers(on_skate, Command::mark_skates));
    CHECK_FALSE(offers(on_skate, Command::remove)); // it would take the shot
    CHECK(offers(menu_at(log, {mark_of(book, MarkKind::puck), {}}), Command::mark_puck));
    CHECK(offers(menu_at(log, {}), Command::mark_threat));
    book.apply(TakeShot{}, at(100));
    const auto bare = menu_at(log, {});
    CHECK(offers(bare, Command::new_shot));
    for (const auto& entries : {on_threat, on_skate, bare}) {
        for (const MenuEntry& one : entries) {
            CHECK_FALSE(one.words.empty());
            if (const auto* command = std::get_if<Command>(&one.does)) CHECK(is_valid(*command, Place::log));
        }
    }
}

TEST_CASE("a click of a fit can be dropped by the right button, and clicked anew") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    book.apply(BeginFit{}, at(90));
    book.apply(FilmClick{seen({-0.91, 0.0})}, at(90));
    const auto entries = menu_at(book.state(), {{}, std::size_t{0}});
    REQUIRE(entries.size() > 2);
    CHECK(entries[0].words == "drop this click: left post, inside");
    book.apply(std::get<LogAction>(entries[0].does), at(90));
    CHECK(book.state().selection.fit()->clicks.empty());
}

TEST_CASE(
    "a shot moved to another frame leaves the marks of its release behind, keeps its card, and comes back") {
    const Folder folder;
    LogBook book = with_marked_shot(folder.path / "a.season");
    book.apply(Choose{1}, at(100));
    book.apply(NewMoment{}, at(80)); // the pass before
    book.apply(FilmClick{seen({0.0, 0.9})}, at(80));
    const Id shot = book.state().shots[0].shot.id;
    const std::size_t behind = marks_left_behind(book.state().shots[0]);
    CHECK(behind == 4);
    book.apply(MoveShot{shot, at(130)}, at(130));
    const ShotEntry& moved = book.state().shots[0];
    CHECK(moved.shot.frame == 130);
    CHECK(moved.shot.film_s == doctest::Approx(130.0 / 30.0));
    CHECK(moved.shot.read.has_value());
    REQUIRE(moved.moments.size() == 2);
    CHECK(main_moment(moved)->frame == 130);
    CHECK(main_moment(moved)->marks.empty());
    CHECK_FALSE(main_moment(moved)->reading);
    CHECK(moved.moments[0].frame == 80);
    CHECK(moved.moments[0].marks.size() == 1);
    CHECK(book.state().selection.shot_id() == shot);
    book.apply(Undo{}, at(130));
    const ShotEntry& back = book.state().shots[0];
    CHECK(back.shot.frame == 100);
    CHECK(main_moment(back)->marks.size() == 4);
    CHECK(main_moment(back)->reading);
}

TEST_CASE("the sign under the mouse is the nearest shot of the open film, within reach") {
    const Folder folder;
    LogBook book = with_marked_shot(folder.path / "a.season");
    book.apply(NewShot{}, at(106));
    const FrameTable frames = frames_of_thirty_seconds();
    const Rect strip{0.0F, 0.0F, 899.0F, 20.0F}; // a frame a pixel
    const RibbonView view = whole_film(frames);
    CHECK(sign_at(book.state(), frames, view, strip, 101.0F, 8.0F) == 0);
    CHECK(sign_at(book.state(), frames, view, strip, 105.0F, 8.0F) == 1);
    CHECK_FALSE(sign_at(book.state(), frames, view, strip, 130.0F, 8.0F));
}
