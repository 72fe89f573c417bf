// The faint marks of the moment before.
#include "desk/made_book.h"

#include "desk/state/follow_job.h"
#include "desk/state/ghosts.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace ropeline;
using namespace ropeline::test;

namespace {

constexpr ImageSize picture{1280, 720};

/// Skates, puck and two opponents at frame 100.
void mark_shot(LogBook& book) {
    book.apply(NewShot{}, at(100));
    for (const IcePoint place :
         {IcePoint{0.5, 1.5}, IcePoint{0.9, 1.2}, IcePoint{5.0, 9.0}, IcePoint{-4.0, 6.0}})
        book.apply(FilmClick{seen(place)}, at(100));
    book.apply(Arm{Hand::threat}, at(100));
    book.apply(FilmClick{seen({1.0, 8.0})}, at(100));
    book.apply(TurnThreat{.receiver = true}, at(100));
    book.apply(TurnThreat{.lane = true}, at(100));
}

bool near(ImagePoint one, ImagePoint other) {
    return std::hypot(one.x_px - other.x_px, one.y_px - other.y_px) < 0.01;
}

} // namespace

TEST_CASE("after the puck the hand asks for an opponent once, and the card can go on without one") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    fit_still(book, 90);
    book.apply(NewShot{}, at(100));
    for (const IcePoint place : {IcePoint{0.5, 1.5}, IcePoint{0.9, 1.2}, IcePoint{5.0, 9.0}})
        book.apply(FilmClick{seen(place)}, at(100));
    CHECK(book.state().selection.hand() == Hand::threat);
    book.apply(Choose{1}, at(100));
    CHECK(book.state().shots[0].shot.read == Read::shot);
    book.apply(FilmClick{seen({-4.0, 6.0})}, at(100));
    CHECK(book.state().selection.hand() == Hand::empty);
    REQUIRE(main_moment(book.state().shots[0])->marks.size() == 4);
    CHECK(main_moment(book.state().shots[0])->marks[3].kind == MarkKind::threat);
}

TEST_CASE("a new shot is offered the marks of the one before, and takes over what the hand asks for") {
    const Folder folder;
    LogBook book = begun(folder.path / "b.season");
    fit_still(book, 90);
    mark_shot(book);
    book.apply(TakeShot{}, at(100));
    book.apply(NewShot{}, at(160));
    const auto offered = ghosts(book.state(), 160, picture);
    REQUIRE(offered.size() == 5);
    book.apply(TakeGhosts{}, at(160));
    const Moment* moment = moment_in_hand(book.state());
    REQUIRE(moment->marks.size() == 2); // only the skates were asked for
    CHECK(near(*find_mark(*moment, MarkKind::skate_left)->at,
               *main_moment(book.state().shots[0])->marks[0].at));
    CHECK(book.state().selection.hand() == Hand::puck);
    book.apply(FilmClick{seen({3.0, 7.0})}, at(160)); // the puck has moved
    CHECK(book.state().selection.hand() == Hand::threat);
    book.apply(TakeGhosts{}, at(160));
    moment = moment_in_hand(book.state());
    REQUIRE(moment->marks.size() == 5);
    CHECK(near(*find_mark(*moment, MarkKind::puck)->at, seen({3.0, 7.0})));
    CHECK(moment->marks[4].receiver == ReceiverKind::one_timer);
    CHECK(moment->marks[4].lane == Lane::contested);
    CHECK(moment->reading.has_value());
    CHECK(ghosts(book.state(), 160, picture).empty());
    book.apply(Undo{}, at(160));
    CHECK(moment_in_hand(book.state())->marks.size() == 3);
    CHECK(book.state().notice.text == "Undone: marks taken over, shot 2.");
}

TEST_CASE("another moment of a play starts from its own nearest moment, not from an earlier shot") {
    const Folder folder;
    LogBook book = begun(folder.path / "c.season");
    fit_still(book, 90);
    mark_shot(book);
    book.apply(NewShot{}, at(300));
    for (const IcePoint place : {IcePoint{-0.5, 1.0}, IcePoint{-0.1, 1.0}, IcePoint{-3.0, 8.0}})
        book.apply(FilmClick{seen(place)}, at(300));
    book.apply(NewMoment{}, at(290));
    const auto offered = ghosts(book.state(), 290, picture);
    REQUIRE(offered.size() == 3);
    const auto puck = std::ranges::find(offered, MarkKind::puck, &Ghost::kind);
    CHECK(near(puck->at, seen({-3.0, 8.0})));
}

TEST_CASE("faint marks follow a rink that lies elsewhere in the new frame; what leaves the picture is not "
          "offered") {
    const Folder folder;
    LogBook book = begun(folder.path / "d.season");
    fit_still(book, 90);
    mark_shot(book);
    // A second fit, of a camera that has turned: everything lies further right.
    const auto turned = [](IcePoint place) { return made::see(behind_the_goal({-14.0, 7.0}), place); };
    book.apply(BeginFit{}, at(200));
    for (int tried = 0; tried < 40 && book.state().selection.fit()->clicks.size() < 6; ++tried) {
        const auto landmark =
            find_landmark(rule_book(RuleBookId::nhl), book.state().selection.fit()->offered);
        if (landmark && in_picture(turned(landmark->at), picture)) {
            book.apply(FilmClick{turned(landmark->at)}, at(200));
        } else {
            book.apply(OfferOther{}, at(200));
        }
    }
    book.apply(KeepFit{}, at(200));
    REQUIRE_FALSE(book.state().selection.fit());
    book.apply(NewShot{}, at(200));
    const auto offered = ghosts(book.state(), 200, picture);
    for (const Ghost& ghost : offered) {
        const auto& marks = main_moment(book.state().shots[0])->marks;
        CHECK(std::ranges::any_of(marks, [&](const Mark& mark) {
            const ImagePoint there = turned(mark.ice.value());
            return std::hypot(there.x_px - ghost.at.x_px, there.y_px - ghost.at.y_px) < 0.5;
        }));
    }
    const auto inside =
        std::ranges::count_if(main_moment(book.state().shots[0])->marks, [&](const Mark& mark) {
            return in_picture(turned(mark.ice.value()), picture);
        });
    CHECK(inside < 5);
    CHECK(static_cast<std::ptrdiff_t>(offered.size()) == inside);
}

TEST_CASE(
    "a mark that was followed through the film is offered where it was followed to, the others where they "
    "were, and nothing is taken without a key") {
    const Folder folder;
    LogBook book = begun(folder.path / "f.season");
    fit_still(book, 90);
    mark_shot(book);
    book.apply(TakeShot{}, at(100));
    book.apply(NewShot{}, at(130));
    const Moment* before = ghosts_from(book.state(), 130);
    REQUIRE(before);
    const Moment from = *before;
    const FollowedMarks found{{{301.0, 402.0}, {331.0, 405.0}}, {}, {{700.0, 500.0}}, {}};
    book.apply(OfferFollowed{followed_to(from, 130, found)}, at(130));
    const auto offered = ghosts(book.state(), 130, picture);
    REQUIRE(offered.size() == 5);
    CHECK(near(offered[0].at, {301.0, 402.0}));
    CHECK(near(offered[1].at, {331.0, 405.0}));
    CHECK(near(offered[2].at, *from.marks[2].at)); // the puck was not surely found
    CHECK(near(offered[3].at, {700.0, 500.0}));
    CHECK(near(offered[4].at, *from.marks[4].at));
    CHECK(moment_in_hand(book.state())->marks.empty());
    book.apply(TakeGhosts{}, at(130));
    CHECK(near(*find_mark(*moment_in_hand(book.state()), MarkKind::skate_left)->at, {301.0, 402.0}));
    // In another frame they say nothing.
    CHECK(ghosts_from(book.state(), 131) == nullptr);
}

TEST_CASE(
    "marks are followed a little way along a film whose rink is known, each figure once, and not further") {
    const Folder folder;
    LogBook book = begun(folder.path / "g.season");
    fit_still(book, 90);
    mark_shot(book);
    book.apply(TakeShot{}, at(100));
    book.apply(NewShot{}, at(130));
    const auto job = follow_job(book.state(), 130, 30.0);
    REQUIRE(job);
    CHECK(job->way.front().frame == 100);
    CHECK(job->way.back().frame == 130);
    REQUIRE(job->figures.size() == 4); // goalie, puck, two opponents
    CHECK(job->figures[0].kind == FigureKind::goalie);
    CHECK(job->figures[0].at.size() == 2);
    CHECK_FALSE(follow_job(book.state(), 130, 10.0)); // three seconds apart
    CHECK_FALSE(follow_job(book.state(), 100, 30.0)); // nowhere to go
}

TEST_CASE("with no moment before, keeping a faint mark says what to do instead") {
    const Folder folder;
    LogBook book = begun(folder.path / "e.season");
    book.apply(NewShot{}, at(10));
    book.apply(TakeGhosts{}, at(10));
    CHECK(book.state().notice.trouble);
    CHECK(moment_in_hand(book.state())->marks.empty());
}
