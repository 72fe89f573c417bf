#include "desk/made_book.h"
#include "desk/state/judged.h"

#include <doctest/doctest.h>

using namespace ropeline;
using namespace ropeline::test;

namespace {

void mark(LogBook& book, std::int64_t frame, IcePoint left, IcePoint right, IcePoint puck) {
    for (const IcePoint place : {left, right, puck})
        book.apply(FilmClick{seen(place)}, at(frame));
}

void mark_threat(LogBook& book, std::int64_t frame, IcePoint place) {
    book.apply(Arm{Hand::threat}, at(frame));
    book.apply(FilmClick{seen(place)}, at(frame));
}

/// A fitted film with one shot at frame 100: the goalie 1.5 m out, the puck at (5, 9), nobody to pass to.
LogBook with_a_lone_shooter(const std::filesystem::path& path) {
    LogBook book = begun(path);
    fit_still(book, 90);
    book.apply(NewShot{}, at(100));
    mark(book, 100, {0.5, 1.5}, {0.9, 1.2}, {5.0, 9.0});
    return book;
}

/// The same with one opponent across.
LogBook with_a_shot(const std::filesystem::path& path) {
    LogBook book = with_a_lone_shooter(path);
    mark_threat(book, 100, {-5.0, 8.0});
    return book;
}

const Moment& in_hand(const LogBook& book) {
    const Moment* moment = moment_in_hand(book.state());
    REQUIRE(moment);
    return *moment;
}

} // namespace

TEST_CASE("an opponent is one key and one click; what he does turns with a key, and all of it is kept") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = with_a_shot(path);
    REQUIRE(in_hand(book).marks.size() == 4);
    REQUIRE(in_hand(book).marks.back().pass);
    const auto in_time_s = [&] {
        const ThreatReading& pass = *in_hand(book).marks.back().pass;
        return pass.spare_s - pass.late_s;
    };
    const double stopping_s = in_time_s();
    book.apply(TurnThreat{.receiver = true}, at(100));
    const Parameters parameters = book.state().season.parameters;
    // A one-timer leaves sooner by the difference of the two release times.
    CHECK(in_time_s() == doctest::Approx(stopping_s - parameters.catch_and_shoot_s + parameters.one_timer_s));
    book.apply(TurnThreat{.lane = true}, at(100));
    mark_threat(book, 100, {0.0, 7.0});
    CHECK(in_hand(book).marks.size() == 5);
    {
        const SeasonFile file = SeasonFile::open_to_read(path);
        const auto moments = file.moments(book.state().shots[0].shot.id);
        REQUIRE(moments.size() == 1);
        CHECK(moments[0].marks[3].receiver == ReceiverKind::one_timer);
        CHECK(moments[0].marks[3].lane == Lane::contested);
        CHECK(moments[0].marks[4].lane == Lane::open);
        CHECK(moments[0].marks[4].receiver == ReceiverKind::stop); // as is usual from his place
        CHECK(file.shot_facts()[0].threats == 2);
    }
    book.apply(RemoveShot{}, at(100)); // the opponent is in hand, so he goes, not the shot
    CHECK(in_hand(book).marks.size() == 4);
    book.apply(Undo{}, at(100));
    CHECK(in_hand(book).marks.size() == 5);
}

TEST_CASE("moments of a play stand in film order, whatever the order they were added in") {
    const Folder folder;
    LogBook book = with_a_shot(folder.path / "a.season");
    book.apply(NewMoment{}, at(60));
    CHECK(in_hand(book).kind == MomentKind::pass);
    mark(book, 60, {-0.2, 1.1}, {0.2, 1.1}, {-4.0, 9.0});
    book.apply(NewMoment{}, at(80));
    CHECK(in_hand(book).kind == MomentKind::reception);
    book.apply(NewMoment{}, at(130));
    CHECK(in_hand(book).kind == MomentKind::rebound);
    const auto& moments = book.state().shots[0].moments;
    REQUIRE(moments.size() == 4);
    for (std::size_t index = 0; index < 4; ++index) {
        CHECK(moments[index].frame == std::array{60, 80, 100, 130}[index]);
        CHECK(moments[index].ordinal == static_cast<int>(index));
    }
    CHECK(main_moment(book.state().shots[0])->frame == 100);
    CHECK(book.state().shots[0].shot.frame == 100); // marks on another moment do not move the shot

    book.apply(PickMomentBy{-1}, at(130));
    CHECK(in_hand(book).frame == 100);
    CHECK(book.take_jump() == 100);
    book.apply(PickMoment{0}, at(100));
    book.apply(NextKind{}, at(60));
    CHECK(in_hand(book).kind == MomentKind::reception);
    book.apply(RemoveShot{}, at(60)); // not the main moment: only this one goes
    CHECK(book.state().shots.size() == 1);
    CHECK(book.state().shots[0].moments.size() == 3);
    book.apply(Undo{}, at(60));
    CHECK(book.state().shots[0].moments.size() == 4);
}

TEST_CASE("a play that gains or loses the moment of its pass is judged anew") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = with_a_lone_shooter(path);
    book.apply(MoveGoalie{puck_line({5.0, 9.0}) * 0.3}, at(100)); // deep
    book.apply(ChooseIn{CardField::came, 2}, at(100)); // a pass came: one moment is the moment of that pass
    const ShotFact alone = SeasonFile::open_to_read(path).shot_facts().at(0);
    CHECK(alone.verdict == Verdict::sat_back);
    CHECK_FALSE(alone.came_open); // nobody is said to have got it
    // A quarter of a second before, the goalie stood on the other side: now that pass is there, the release after it
    // is the shot, and from there nobody gets onto the new line.
    book.apply(NewMoment{}, at(92));
    mark(book, 92, {-1.0, 1.0}, {-0.6, 1.2}, {-5.0, 8.0});
    const ShotFact passed = SeasonFile::open_to_read(path).shot_facts().at(0);
    CHECK(passed.verdict == Verdict::beaten_across);
    CHECK(passed.came_open == passed.shot_open);
    book.apply(RemoveShot{}, at(92));
    CHECK(book.state().shots[0].moments.size() == 1);
    const ShotFact again = SeasonFile::open_to_read(path).shot_facts().at(0);
    CHECK(again.verdict == alone.verdict);
    CHECK_FALSE(again.came_open);
}

TEST_CASE("the verdict does not wait for what came and does not follow it; the reviewer's stands beside it") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = with_a_shot(path);
    REQUIRE(in_hand(book).judgement);
    const Verdict model = in_hand(book).judgement->verdict;
    CHECK(model != Verdict::not_judged);
    CHECK_FALSE(in_hand(book).judgement->on_what_came);
    for (const int came : {1, 2, 3}) {
        book.apply(ChooseIn{CardField::came, came}, at(100));
        CHECK(in_hand(book).judgement->verdict == model);
        // Of a pass that nobody is said to have got nothing is known.
        CHECK(in_hand(book).judgement->on_what_came.has_value() == (came == 1));
    }
    book.apply(ChooseIn{CardField::came, 2}, at(100));
    book.apply(HoldMark{3}, at(100));
    book.apply(TurnThreat{.took = true}, at(100));
    CHECK(in_hand(book).marks[3].took);
    REQUIRE(in_hand(book).judgement->on_what_came);
    CHECK(in_hand(book).judgement->on_what_came->open == in_hand(book).marks[3].pass->open_on_arrival);
    book.apply(Overrule{Verdict::beaten_across, "came <late> and \"drifted\""}, at(100));
    const auto fact = SeasonFile::open_to_read(path).shot_facts().at(0);
    CHECK(fact.verdict == model);
    CHECK(fact.overruled == Verdict::beaten_across);
    CHECK(fact.overrule_reason == "came <late> and \"drifted\"");
    book.apply(Overrule{std::nullopt, ""}, at(100));
    CHECK_FALSE(SeasonFile::open_to_read(path).shot_facts().at(0).overruled.has_value());
}

TEST_CASE("an opponent close to the net is taken for a one-timer, and how firm the verdict is goes into the "
          "season") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = with_a_shot(path);
    mark_threat(book, 100, {-1.0, 1.2});
    CHECK(in_hand(book).marks.back().receiver == ReceiverKind::one_timer);
    const ShotFact fact = SeasonFile::open_to_read(path).shot_facts().at(0);
    REQUIRE(in_hand(book).judgement->firmness);
    CHECK(fact.firm == in_hand(book).judgement->firmness->share);
    book.apply(DragMark{0, seen({0.3, 1.6}), false}, at(100)); // on the way: the answer, and nothing slow
    CHECK_FALSE(in_hand(book).judgement->firmness);
    book.apply(DragMark{0, seen({0.3, 1.6}), true}, at(100));
    CHECK(in_hand(book).judgement->firmness);
}

TEST_CASE("one receiver at most got the pass, and how he shoots goes round") {
    const Folder folder;
    LogBook book = with_a_shot(folder.path / "a.season");
    mark_threat(book, 100, {0.0, 7.0});
    for (const std::size_t held : {3U, 4U}) {
        book.apply(HoldMark{held}, at(100));
        book.apply(TurnThreat{.took = true}, at(100));
    }
    CHECK_FALSE(in_hand(book).marks[3].took);
    CHECK(in_hand(book).marks[4].took);
    for (const ReceiverKind kind : {ReceiverKind::one_timer, ReceiverKind::tip, ReceiverKind::stop}) {
        book.apply(TurnThreat{.receiver = true}, at(100));
        CHECK(in_hand(book).marks[4].receiver == kind);
    }
}

TEST_CASE("a place tried on the plan keeps nothing until it is asked for") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = with_a_lone_shooter(path);
    book.apply(ChooseIn{CardField::came, 1}, at(100));
    const IcePoint deep = puck_line({5.0, 9.0}) * 0.3;
    const Moment tried = with_goalie_at(in_hand(book), deep);
    const auto view = judged(book.state(), book.state().shots[0], tried);
    REQUIRE(view);
    CHECK(view->decision.reading.depth_m == doctest::Approx(0.3));
    CHECK(view->decision.verdict == Verdict::sat_back);
    CHECK(view->headline.starts_with("Sat back: "));
    CHECK(view->figures.size() >= 3);
    CHECK(in_hand(book).reading->depth_m > 1.2);

    book.apply(MoveGoalie{deep}, at(100));
    CHECK(in_hand(book).reading->depth_m == doctest::Approx(0.3).epsilon(1e-3));
    CHECK(find_mark(in_hand(book), MarkKind::skate_left)); // both skates went along
}

TEST_CASE("the body's cues turn from shot to pass to nothing") {
    const Folder folder;
    LogBook book = with_a_shot(folder.path / "a.season");
    for (const auto says : {Likelihood::shot, Likelihood::pass}) {
        book.apply(ChooseIn{CardField::cues, 1}, at(100));
        REQUIRE(in_hand(book).cues.size() == 1);
        CHECK(in_hand(book).cues[0].says == says);
    }
    book.apply(ChooseIn{CardField::cues, 1}, at(100));
    CHECK(in_hand(book).cues.empty());
}

TEST_CASE("a figure behind the model works the season out again; a slip of the unit is refused") {
    const Folder folder;
    LogBook book = with_a_shot(folder.path / "a.season");
    book.apply(TurnThreat{.receiver = true}, at(100)); // he shoots at once
    const auto late_s = [&] { return in_hand(book).marks.back().pass->late_s; };
    const double before = late_s();
    REQUIRE(before > 0.0);
    double told = 0.0;
    book.report_progress([&](double share) { told = share; });
    book.apply(SetParameter{"lateral_speed_mps", 2.4}, at(100));
    CHECK(told == 1.0);
    book.apply(PickShot{0}, at(100));
    CHECK(late_s() < before);
    book.apply(SetParameter{"lateral_speed_mps", 240.0}, at(100));
    CHECK(book.state().notice.trouble);
    CHECK(book.state().season.parameters.lateral_speed_mps == 2.4);
    book.apply(Undo{}, at(100));
    book.apply(PickShot{0}, at(100));
    CHECK(late_s() == before);
    book.apply(SetLevel{Level::youth}, at(100));
    CHECK(book.state().season.level == Level::youth);
    CHECK(book.state().season.parameters.lateral_speed_mps == parameters_for(Level::youth).lateral_speed_mps);
}
