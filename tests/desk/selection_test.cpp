// What is open, and what lets go of what.
#include "desk/made_book.h"

#include "season/full_disk.h"

#include <doctest/doctest.h>

using namespace ropeline;
using namespace ropeline::test;

namespace {

/// Game, film, shot and moment open, a mark held, the puck asked for.
Selection all_open() {
    Selection open;
    open.open_game("game");
    open.open_film("film");
    open.open_shot("shot");
    open.open_moment("moment");
    open.hold("moment", 2);
    open.take(Hand::puck);
    open.go_to_frame(7);
    return open;
}

void mark_goalie_and_puck(LogBook& book, std::int64_t frame) {
    book.apply(NewShot{}, at(frame));
    book.apply(Arm{Hand::goalie}, at(frame));
    book.apply(FilmClick{seen({0.4, 1.2})}, at(frame));
    book.apply(FilmClick{seen({4.0, 9.0})}, at(frame));
}

/// Four clicks of a fit begun at the frame.
void click_four(LogBook& book, std::int64_t frame) {
    book.apply(BeginFit{}, at(frame));
    for (int offer = 0; offer < 40 && book.state().selection.fit()->clicks.size() < 4; ++offer) {
        const auto landmark =
            find_landmark(rule_book(RuleBookId::nhl), book.state().selection.fit()->offered);
        if (landmark) {
            book.apply(FilmClick{seen(landmark->at)}, at(frame));
        } else {
            book.apply(OfferOther{}, at(frame));
        }
    }
}

} // namespace

TEST_CASE("opening another thing lets go of what rested on the one before, and of nothing else") {
    Selection open = all_open();
    open.open_moment("other");
    CHECK(open.hand() == Hand::empty);
    CHECK_FALSE(open.held());
    CHECK(open.shot_id() == "shot");

    open = all_open();
    open.open_shot("other");
    CHECK(open.moment_id().empty());
    CHECK_FALSE(open.held());
    CHECK(open.hand() == Hand::empty);
    CHECK(open.film_id() == "film");

    open = all_open();
    open.begin_fit({});
    CHECK(open.hand() == Hand::landmark);
    CHECK_FALSE(open.held());
    open.open_film("other");
    CHECK_FALSE(open.fit());
    CHECK(open.hand() == Hand::empty);
    CHECK_FALSE(open.jump());
    CHECK(open.shot_id() == "shot"); // a second camera may see it

    open = all_open();
    open.open_game("other");
    CHECK(open.film_id().empty());
    CHECK(open.shot_id().empty());
    CHECK_FALSE(open.jump());
}

TEST_CASE("the film goes to one place: the last one asked for, once") {
    Selection open = all_open();
    open.go_to_time(1.5);
    CHECK_FALSE(open.take_jump());
    CHECK(open.take_jump_s() == 1.5);
    CHECK_FALSE(open.take_jump_s());
}

TEST_CASE(
    "while the rink is being fitted, undo takes back its clicks and nothing else, and Enter after it is "
    "answered") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season"); // the last change was the film
    const auto clicks = [&] { return book.state().selection.fit()->clicks.size(); };
    click_four(book, 30);
    REQUIRE(clicks() == 4);
    book.apply(Undo{}, at(30));
    REQUIRE(book.state().selection.fit());
    CHECK(clicks() == 3);
    CHECK(book.state().films.size() == 1);
    book.apply(Redo{}, at(30));
    CHECK(clicks() == 4);
    for (int click = 0; click < 4; ++click)
        book.apply(Undo{}, at(30));
    CHECK(clicks() == 0);
    book.apply(Undo{}, at(30));
    CHECK(book.state().notice.text.find("No click") != std::string::npos);
    CHECK(book.state().films.size() == 1);
    book.apply(TakeShot{}, at(30));
    CHECK(book.state().notice.text.starts_with("This fit cannot be kept yet."));
    REQUIRE(book.state().selection.fit());
    book.apply(PutDown{}, at(30));
    book.apply(Undo{}, at(30)); // with no fit in hand it is the log's again
    CHECK(book.state().films.empty());
    CHECK(open_film(book.state()).empty());
}

TEST_CASE("a click that was dragged goes back to where it was in one step of undo") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    click_four(book, 30);
    const ImagePoint before = book.state().selection.fit()->clicks[1].at;
    for (const double by : {1.0, 2.0, 3.0})
        book.apply(DragClick{1, {before.x_px + by, before.y_px}}, at(30));
    CHECK(book.state().selection.fit()->clicks[1].at.x_px == before.x_px + 3.0);
    book.apply(Undo{}, at(30));
    CHECK(book.state().selection.fit()->clicks[1].at.x_px == before.x_px);
    CHECK(book.state().selection.fit()->clicks.size() == 4);
    book.apply(Redo{}, at(30));
    CHECK(book.state().selection.fit()->clicks[1].at.x_px == before.x_px + 3.0);
}

TEST_CASE("a new shot on another shot's frame opens that one, with none of its marks held") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    fit(book, 90);
    mark_goalie_and_puck(book, 100);
    mark_goalie_and_puck(book, 200);
    book.apply(HoldMark{1}, at(200));
    const ImagePoint before = *main_moment(book.state().shots[0])->marks[1].at;
    book.apply(NewShot{}, at(100));
    CHECK(chosen_index(book.state()) == 0U);
    book.apply(Nudge{0.25, 0.0}, at(100));
    CHECK(book.state().notice.text.starts_with("No mark is held"));
    CHECK(main_moment(book.state().shots[0])->marks[1].at->x_px == before.x_px);
}

TEST_CASE("what is open stays open over a change that leaves it there, and closes when undo takes it away") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    mark_goalie_and_puck(book, 300);
    const Id open = book.state().selection.shot_id();
    book.apply(NewShot{}, at(100)); // stands before it in the list
    book.apply(PickShot{1}, at(100));
    CHECK(book.state().selection.shot_id() == open);
    book.apply(Undo{}, at(100)); // the shot at 100 goes
    CHECK(book.state().selection.shot_id() == open);
    CHECK(chosen_index(book.state()) == 0U);
    for (int change = 0; change < 3; ++change)
        book.apply(Undo{}, at(100));
    CHECK(book.state().shots.empty());
    CHECK(book.state().selection.shot_id().empty());
    CHECK_FALSE(moment_in_hand(book.state()));
}
