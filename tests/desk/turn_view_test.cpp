// What one turn of the desk shows, worked out once.
#include "desk/made_book.h"

#include "desk/state/turn_view.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace ropeline;
using namespace ropeline::test;

namespace {

TurnOf turn(const LogBook& book, std::int64_t frame, std::optional<IcePoint> tried = std::nullopt) {
    return {book.state().revision, frame, {1280, 720}, tried};
}

/// A fitted film with one shot at frame 100: skates, puck, one opponent.
LogBook with_a_shot(const std::filesystem::path& path) {
    LogBook book = begun(path);
    fit(book, 90);
    book.apply(NewShot{}, at(100));
    for (const IcePoint place :
         {IcePoint{0.5, 1.5}, IcePoint{0.9, 1.2}, IcePoint{5.0, 9.0}, IcePoint{-4.0, 6.0}})
        book.apply(FilmClick{seen(place)}, at(100));
    book.apply(ChooseIn{CardField::came, 1}, at(100));
    return book;
}

bool has_line(const TurnView& view, IceLineKind kind) {
    return std::ranges::find(view.lines, kind, &IceLine::kind) != view.lines.end();
}

} // namespace

TEST_CASE("a turn's view holds the fit, the verdict with its reason and every line of the moment in hand") {
    const Folder folder;
    const LogBook book = with_a_shot(folder.path / "a.season");
    const TurnView view = turn_view(book.state(), turn(book, 100));
    CHECK(view.here.source == FitHere::Source::assumed);
    CHECK(view.in_this_frame);
    REQUIRE(view.judged);
    CHECK(view.judged->decision.verdict == *moment_in_hand(book.state())->verdict);
    CHECK_FALSE(view.judged->reason.empty());
    for (const IceLineKind kind : {IceLineKind::rope, IceLineKind::depth, IceLineKind::advised})
        CHECK(has_line(view, kind));
    CHECK((has_line(view, IceLineKind::pass) || has_line(view, IceLineKind::lost_pass)));

    CHECK_FALSE(turn_view(book.state(), turn(book, 101)).in_this_frame);
}

TEST_CASE("a goalie tried on the plan changes the view and nothing else") {
    const Folder folder;
    const LogBook book = with_a_shot(folder.path / "a.season");
    const IcePoint deep = puck_line({5.0, 9.0}) * 0.8;
    const TurnView view = turn_view(book.state(), turn(book, 100, deep));
    REQUIRE(view.judged);
    CHECK(view.judged->decision.reading.depth_m == doctest::Approx(0.8));
    CHECK(moment_in_hand(book.state())->reading->depth_m > 1.2);
    CHECK_FALSE(view.of == turn(book, 100));
}

TEST_CASE("a view stands until something that it follows from changes") {
    const Folder folder;
    LogBook book = with_a_shot(folder.path / "a.season");
    const TurnView view = turn_view(book.state(), turn(book, 100));
    CHECK(view.of == turn(book, 100));
    CHECK_FALSE(view.of == turn(book, 99));
    book.take_jump();
    CHECK(view.of == turn(book, 100));
    book.apply(ChooseIn{CardField::came, 2}, at(100));
    CHECK_FALSE(view.of == turn(book, 100));
}

TEST_CASE("faint marks are all there are, and those the hand asks for") {
    const Folder folder;
    LogBook book = with_a_shot(folder.path / "a.season");
    book.apply(NewShot{}, at(160));
    const TurnView view = turn_view(book.state(), turn(book, 160));
    CHECK(view.ghosts.size() == 4);
    CHECK(view.asked.size() == 2); // both skates
    book.apply(PutDown{}, at(160));
    CHECK(turn_view(book.state(), turn(book, 160)).asked.empty());
    book.apply(BeginFit{}, at(160));
    const TurnView fitting = turn_view(book.state(), turn(book, 160));
    CHECK(fitting.ghosts.empty());
    CHECK(fitting.rules == book.state().selection.fit()->rules);
}
