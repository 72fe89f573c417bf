// The game clock, several films of a game, both nets and two cameras, in the log book.
#include "made_book.h"

#include "camera/turned.h"
#include "desk/state/loop_span.h"
#include "desk/state/nets.h"
#include "desk/state/seen_twice.h"
#include "season/game_clock.h"
#include "season/play.h"

#include <doctest/doctest.h>

namespace ropeline {
namespace {

using namespace test;
using doctest::Approx;

const RuleBook& nhl = rule_book(RuleBookId::nhl);

/// A second film of the same game; the first stays film 1 and is shown again.
void add_film(LogBook& book, const std::string& name = "two") {
    FilmFacts facts;
    facts.path = "/films/" + name + ".mp4";
    facts.fingerprint = name;
    facts.file_bytes = 2000;
    facts.shown_width_px = 1280;
    facts.shown_height_px = 720;
    book.apply(KeepFilm{facts, 900, FilmSpan{0.0, 30.0}}, {});
    book.apply(ChooseFilm{0}, {});
}

void mark(LogBook& book, std::int64_t frame, IcePoint goalie, IcePoint puck) {
    book.apply(Arm{Hand::goalie}, at(frame));
    book.apply(FilmClick{seen(goalie)}, at(frame));
    book.apply(FilmClick{seen(puck)}, at(frame));
}

std::vector<ClockMark> marks(const LogBook& book) {
    return clock_marks_of(book.state(), open_film(book.state()));
}

const Shot& shot(const LogBook& book, std::size_t index = 0) {
    return book.state().shots[index].shot;
}

} // namespace

TEST_CASE("a clock typed at a frame is kept there, shots follow it, and undo takes both back") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = begun(path);
    book.apply(NewShot{}, at(330));
    CHECK_FALSE(shot(book).clock_s);
    book.apply(SetClock{"2 14:35"}, at(30));
    CHECK_FALSE(book.state().notice.trouble);
    REQUIRE(marks(book).size() == 1);
    CHECK(marks(book)[0].period == 2);
    CHECK(marks(book)[0].clock_s == 875.0);
    CHECK(shot(book).period == 2);
    CHECK(shot(book).clock_s == Approx(865.0)); // ten seconds on
    CHECK(shot(book).clock_from_marks);
    {
        const SeasonFile file = SeasonFile::open_to_read(path);
        CHECK(*file.shot_facts()[0].clock_s == Approx(865.0));
        CHECK(file.clock_marks(open_film(book.state())).size() == 1);
    }
    book.apply(SetClock{"14:00"}, at(330)); // the period as before
    CHECK(shot(book).clock_s == 840.0);
    book.apply(Undo{}, at(330));
    CHECK(shot(book).clock_s == Approx(865.0));
    book.apply(Undo{}, at(330));
    CHECK(marks(book).empty());
    CHECK_FALSE(shot(book).clock_s);
}

TEST_CASE("the clock that was typed for a shot wins over the clock marks until it is cleared") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    book.apply(NewShot{}, at(60));
    book.apply(PutClock{1, 700.0}, at(60));
    book.apply(SetClock{"2 10:00"}, at(0));
    CHECK(shot(book).period == 1);
    CHECK(shot(book).clock_s == 700.0);
    book.apply(PutClock{std::nullopt, 650.0}, at(60)); // the period stays
    CHECK(shot(book).period == 1);
    book.apply(PutClock{}, at(60));
    CHECK(shot(book).period == 2);
    CHECK(shot(book).clock_s == Approx(598.0));
}

TEST_CASE("a whistle holds the clock, the same key starts it again") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    book.apply(TurnClock{}, at(0));
    CHECK(book.state().notice.trouble); // no clock known yet
    book.apply(SetClock{"1 12:00"}, at(0));
    book.apply(TurnClock{}, at(300));
    REQUIRE(marks(book).size() == 2);
    CHECK_FALSE(marks(book)[1].running);
    CHECK(marks(book)[1].clock_s == Approx(710.0));
    CHECK(game_time_at(marks(book), 20.0)->clock_s == Approx(710.0));
    book.apply(TurnClock{}, at(600));
    CHECK(marks(book)[2].running);
    CHECK(game_time_at(marks(book), 25.0)->clock_s == Approx(705.0));
    book.apply(SetClock{"stop"}, at(750));
    CHECK_FALSE(marks(book)[3].running);
    book.apply(SetClock{"go"}, at(780));
    CHECK(marks(book)[4].running);
    book.apply(SetClock{""}, at(780)); // nothing typed: no mark here any more
    CHECK(marks(book).size() == 4);
}

TEST_CASE("a clock that contradicts another mark, or reads like none, is refused in one line") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    const auto refused = [&](const char* text, std::int64_t frame) {
        CAPTURE(text);
        const std::size_t before = marks(book).size();
        book.apply(SetClock{text}, at(frame));
        CHECK(book.state().notice.trouble);
        CHECK(book.state().notice.text.find('\n') == std::string::npos);
        CHECK(marks(book).size() == before);
        return book.state().notice.text;
    };
    refused("14:35", 30); // no period known yet
    book.apply(SetClock{"2 14:35"}, at(300));
    CHECK(refused("2 15:00", 400).find("frame 300 is marked P2 14:35") != std::string::npos);
    CHECK(refused("1 3:00", 400).find("P2 14:35") != std::string::npos);
    CHECK(refused("3 20:00", 200).find("P2 14:35") != std::string::npos);
    for (const char* text : {"2 14-35", "14:75", "two", "2 14:35 soon"})
        refused(text, 400);
    refused("", 500);                         // no mark here to remove
    book.apply(SetClock{"2 14:20"}, at(300)); // at the same frame: corrected
    CHECK(marks(book).size() == 1);
    CHECK(marks(book)[0].clock_s == 860.0);
}

TEST_CASE("going to a game clock moves the film, and changes films where the time lies on another") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    add_film(book);
    book.apply(GoToClock{"1 10:00"}, at(0));
    CHECK(book.state().notice.trouble);
    book.apply(SetClock{"1 10:00"}, at(0));
    book.apply(ShowFilm{1}, at(0));
    book.apply(SetClock{"2 20:00"}, at(60));
    book.apply(ShowFilm{0}, at(60));
    book.take_jump();
    book.take_jump_s();

    book.apply(GoToClock{"9:50"}, at(0)); // this period
    CHECK(film_number(book.state(), open_film(book.state())) == 1);
    CHECK(*book.take_jump_s() == Approx(10.0));
    book.apply(GoToClock{"2 19:50"}, at(300));
    CHECK(film_number(book.state(), open_film(book.state())) == 2);
    CHECK(*book.take_jump_s() == Approx(12.0));
    book.apply(GoToClock{"2 3:00"}, at(300)); // after that film's end
    CHECK(book.state().notice.trouble);
    book.apply(GoToClock{"soon"}, at(300));
    CHECK(book.state().notice.trouble);
}

TEST_CASE("films switch to the same game clock where both know it, else to where they were left") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    book.apply(ShowFilmBy{1}, at(40));
    CHECK(film_number(book.state(), open_film(book.state())) == 1); // there is only one
    add_film(book);
    book.apply(NewShot{}, at(40));
    book.apply(ShowFilmBy{1}, at(40));
    CHECK(film_number(book.state(), open_film(book.state())) == 2);
    CHECK(chosen_index(book.state()) == 0U); // the shot stays open
    CHECK_FALSE(book.take_jump());
    book.apply(ShowFilmBy{1}, at(77));
    CHECK(book.take_jump() == 40);
    book.apply(SetClock{"1 10:00"}, at(0));
    book.apply(ShowFilmBy{1}, at(40));
    CHECK(book.take_jump() == 77);
    book.apply(SetClock{"1 10:00"}, at(120));
    book.apply(ShowFilmBy{-1}, at(180));
    CHECK_FALSE(book.take_jump());
    CHECK(*book.take_jump_s() == Approx(2.0));
}

TEST_CASE("up and down go from shot to shot over all films of the game") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    add_film(book);
    book.apply(NewShot{}, at(100));
    book.apply(ShowFilm{1}, at(100));
    book.apply(PutDown{}, at(50));
    book.apply(PutDown{}, at(50));
    book.apply(NewShot{}, at(50));
    REQUIRE(book.state().shots.size() == 2);
    book.apply(PickShotBy{-1}, at(50));
    CHECK(film_number(book.state(), open_film(book.state())) == 1);
    CHECK(book.take_jump() == 100);
    book.apply(PickShotBy{1}, at(100));
    CHECK(film_number(book.state(), open_film(book.state())) == 2);
    CHECK(book.take_jump() == 50);
}

TEST_CASE("one key turns a shot to the net at the other end, and its figures are those of that net") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = begun(path);
    fit_still(book, 0);
    constexpr IcePoint goalie{0.4, 1.2}, puck{4.0, 9.0};
    book.apply(NewShot{}, at(100));
    mark(book, 100, goalie, puck);
    const double near_m = main_moment(book.state().shots[0])->reading->depth_m;
    CHECK(near_m == Approx(dot(goalie, puck * (1.0 / length(puck)))).epsilon(1e-3));

    book.apply(TurnEnds{}, at(100));
    CHECK(shot(book).far_net);
    const IcePoint seen_from_there = turned(goalie, nhl);
    const Moment* moment = main_moment(book.state().shots[0]);
    CHECK(find_mark(*moment, MarkKind::goalie)->ice->y_m == Approx(seen_from_there.y_m).epsilon(1e-3));
    {
        const SeasonFile file = SeasonFile::open_to_read(path);
        CHECK(file.shots(shot(book).game_id)[0].far_net);
        CHECK(*file.shot_facts()[0].depth_m == Approx(moment->reading->depth_m));
    }
    CHECK(book.file().undo_name() == "far net, shot 1");
    book.apply(Undo{}, at(100));
    CHECK_FALSE(shot(book).far_net);
    CHECK(main_moment(book.state().shots[0])->reading->depth_m == Approx(near_m));
}

TEST_CASE("a goalie marked nearer to the other net is told of, in the words that mend it") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    fit_still(book, 0);
    book.apply(NewShot{}, at(100));
    book.apply(TurnEnds{}, at(100));
    mark(book, 100, {0.4, 1.2}, {4.0, 9.0});
    CHECK(book.state().notice.trouble);
    CHECK(book.state().notice.text.find("U says that the shot is at the near one") != std::string::npos);
}

TEST_CASE("teams change ends each period: a new shot takes the end from the goalie's last one") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    const auto log_shot = [&](std::int64_t frame, int period) {
        book.apply(NewShot{}, at(frame));
        const bool far = chosen_shot(book.state())->shot.far_net;
        book.apply(PutClock{period, 600.0}, at(frame));
        return far;
    };
    CHECK_FALSE(log_shot(10, 1));
    book.apply(SetClock{"1 20:00"}, at(0));
    book.apply(SetClock{"2 20:00"}, at(300));
    book.apply(SetClock{"3 20:00"}, at(600));
    CHECK_FALSE(log_shot(20, 1)); // the same period, the same end
    CHECK(log_shot(310, 2));      // the next period, the other end
    CHECK(log_shot(320, 2));
    CHECK_FALSE(log_shot(610, 3));

    Shot fresh = shot(book);
    fresh.frame = 700;
    fresh.period.reset(); // period not known: the same end
    CHECK_FALSE(likely_far_net(book.state(), fresh, {1280, 720}));
    fresh.goalie_id = new_id(); // nobody we know: nothing to go by
    fresh.period = 2;
    CHECK_FALSE(likely_far_net(book.state(), fresh, {1280, 720}));
    book.apply(NewGoalie{"Runa Holt", "Mill Town Otters"},
               {}); // the other team's goalie stands at the other end
    fresh.goalie_id = book.state().goalie_id;
    fresh.period = 3;
    CHECK(likely_far_net(book.state(), fresh, {1280, 720}));
    book.apply(NewGoalie{"Tove Lind", "Harbour Pike"}, {}); // a goalie change leaves the net
    fresh.goalie_id = book.state().goalie_id;
    CHECK_FALSE(likely_far_net(book.state(), fresh, {1280, 720}));
}

TEST_CASE("where the fit shows one net only, a new shot is at that one, whatever the period") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    fit_still(book, 0); // this camera has the near net in its picture and not the far one
    REQUIRE(in_picture(seen({0.0, 0.0}), {1280, 720}));
    book.apply(NewShot{}, at(10));
    book.apply(PutClock{1, 600.0}, at(10));
    Shot fresh = shot(book);
    fresh.frame = 400;
    fresh.period = 2;
    CHECK_FALSE(likely_far_net(book.state(), fresh, {1280, 720}));
}

TEST_CASE(
    "a second camera's view of a moment has its own frame, marks and fit, and is compared with the first's") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = begun(path);
    add_film(book);
    fit_still(book, 0);
    book.apply(NewShot{}, at(100));
    mark(book, 100, {0.4, 1.2}, {4.0, 9.0});
    const Moment first = *main_moment(book.state().shots[0]);
    const auto fact = SeasonFile::open_to_read(path).shot_facts().at(0);

    book.apply(ShowFilm{1}, at(100));
    fit_still(book, 5);
    book.apply(NewMoment{}, at(140));
    const Moment* view = moment_in_hand(book.state());
    REQUIRE(view);
    CHECK(view->same_as == first.id);
    CHECK(view->kind == first.kind);
    CHECK(view->frame == 140);
    CHECK(view->film_id == open_film(book.state()));
    mark(book, 140, {0.5, 1.3}, {4.0, 9.2});

    const auto [a, b] = both_views(book.state());
    REQUIRE(a);
    CHECK(a->id == first.id);
    const auto compared = seen_twice(*a, *b);
    REQUIRE(compared.size() == 2);
    CHECK(compared[0].what == "goalie");
    CHECK(compared[0].apart_m == Approx(std::hypot(0.1, 0.1)).epsilon(0.02));
    CHECK(compared[1].apart_m == Approx(0.2).epsilon(0.02));
    REQUIRE(compared[0].first_sigma_m);
    CHECK(*compared[0].first_sigma_m > 0.0);
    CHECK(compared[0].agree ==
          (compared[0].apart_m <= 2.0 * std::hypot(*compared[0].first_sigma_m, *compared[0].second_sigma_m)));

    const SeasonFile file = SeasonFile::open_to_read(path);
    const auto moments = file.moments(shot(book).id);
    REQUIRE(moments.size() == 2);
    CHECK(moments[1].reading);
    CHECK_FALSE(moments[1].judgement);
    CHECK(moments[1].rink_fit_id != moments[0].rink_fit_id);
    CHECK(file.shot_facts()[0].moment_id == fact.moment_id);
    CHECK(file.shot_facts()[0].depth_m == fact.depth_m);
    CHECK(shot(book).frame == 100);

    book.apply(NewMoment{}, at(160)); // this camera's view is there already
    CHECK(book.state().shots[0].moments.size() == 2);
    CHECK(book.take_jump() == 140);
    book.apply(PickMomentBy{-1}, at(140)); // back to the first camera
    CHECK(film_number(book.state(), open_film(book.state())) == 1);
    CHECK(book.take_jump() == 100);
    book.apply(NewMoment{}, at(60)); // on its own film a moment of the play is added before the release
    CHECK(book.state().shots[0].moments.size() == 3);
    CHECK(book.state().shots[0].moments[0].frame == 60);
    CHECK(is_step(book.state().shots[0].moments[1]));
    CHECK_FALSE(is_step(book.state().shots[0].moments[2]));
}

TEST_CASE("what is chosen for a shot while another film is shown leaves its figures as they were") {
    const Folder folder;
    const auto path = folder.path / "a.season";
    LogBook book = begun(path);
    add_film(book);
    fit_still(book, 0);
    book.apply(NewShot{}, at(100));
    mark(book, 100, {0.4, 1.2}, {4.0, 9.0});
    const auto before = SeasonFile::open_to_read(path).shot_facts().at(0);
    book.apply(ShowFilm{1}, at(100)); // no fit on that film
    book.apply(ChooseIn{CardField::cues, 1}, at(0));
    book.apply(NextKind{}, at(0));
    book.apply(Undo{}, at(0));
    book.apply(TurnEnds{}, at(0));
    book.apply(TurnEnds{}, at(0));
    const auto after = SeasonFile::open_to_read(path).shot_facts().at(0);
    CHECK(*after.depth_m == Approx(*before.depth_m).epsilon(1e-12));
    CHECK(*after.depth_sigma_m == Approx(*before.depth_sigma_m).epsilon(1e-9));
    book.apply(Arm{Hand::puck}, at(0)); // its marks lie on film 1: the film goes there
    CHECK(film_number(book.state(), open_film(book.state())) == 1);
    CHECK(book.take_jump() == 100);
}

TEST_CASE("the loop is about what the camera on screen saw, and about this frame where it saw nothing") {
    std::vector<Pts> pts;
    for (int frame = 0; frame < 900; ++frame)
        pts.push_back({frame});
    const FrameTable frames{pts, TimeBase{1, 30}};
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    add_film(book);
    const auto loop = [&](std::int64_t frame) { return loop_span(book.state(), frames, FrameIndex{frame}); };
    CHECK(loop(300).first_s == Approx(8.0)); // no shot is open
    CHECK(loop(300).last_s == Approx(11.5));
    fit_still(book, 0);
    book.apply(NewShot{}, at(100));
    mark(book, 100, {0.4, 1.2}, {4.0, 9.0});
    book.apply(ShowFilm{1}, at(100));
    CHECK(loop(300).first_s == Approx(8.0)); // this camera has not seen the shot
    CHECK(loop(300).last_s == Approx(11.5));
    book.apply(NewMoment{}, at(600));
    CHECK(loop(300).first_s == Approx(18.0));
    CHECK(loop(300).last_s == Approx(21.5));
    book.apply(PickMoment{0}, at(600));
    book.apply(NewMoment{}, at(60));
    CHECK(loop(300).first_s == Approx(0.0)); // from 60 to 100 on the first film
    CHECK(loop(300).last_s == Approx(100.0 / 30.0 + 1.5));
}

TEST_CASE(
    "what was found along a film is kept with that film and no other, and nothing of it can be undone") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    add_film(book);
    const Id first = book.state().films[0].id, second = book.state().films[1].id;
    const auto undo = book.file().undo_name();
    book.apply(KeepFilmMarks{"two", {std::byte{7}}}, {}); // found in a film that is not open any more
    CHECK_FALSE(book.file().film_marks(first));
    CHECK_FALSE(book.file().film_marks(second));
    book.apply(ChooseFilm{1}, {});
    book.apply(KeepFilmMarks{"two", {std::byte{7}}}, {});
    REQUIRE(book.file().film_marks(second));
    CHECK(book.file().film_marks(second)->marks == std::vector{std::byte{7}});
    CHECK(book.file().undo_name() == undo);
}

} // namespace ropeline
