// A scorer's list against a game: what comes in, where on the film, what is there already, and undo.
#include "desk/made_book.h"
#include "desk/state/bring_in.h"
#include "desk/state/shot_list.h"

#include <doctest/doctest.h>

using namespace ropeline;
using namespace ropeline::test;

namespace {

/// 900 frames, 30 a second, the first at 10 s of the stream.
FrameTable thirty_seconds() {
    std::vector<Pts> pts;
    for (std::int64_t frame = 0; frame < 900; ++frame)
        pts.push_back({300 + frame});
    return FrameTable{std::move(pts), {1, 30}};
}

struct OneGame {
    Folder folder;
    LogBook book = begun(folder.path / "in.season");
    FrameTable frames = thirty_seconds();
    FilmAt film{book.state().films[0].id, &frames, {}};

    ComingIn coming(std::string_view text) const {
        const CsvTable table = csv_table(text);
        return coming_in(book.state(),
                         read_shot_times(table, guess_reading(table), rule_book(RuleBookId::nhl)), film);
    }
    void take(std::string_view text) { book.apply(BringIn{"list.csv", coming(text).shots}, at(0)); }
    void read_clock(std::int64_t frame, int period, double clock_s) {
        ClockMark mark;
        mark.film_id = film.film_id;
        mark.frame = frame;
        mark.film_s = frames.seconds_of(FrameIndex{frame});
        mark.period = period;
        mark.clock_s = clock_s;
        film.clock.push_back(mark);
    }
};

} // namespace

TEST_CASE("a film time is the frame shown so long after the film's first") {
    OneGame game;
    const auto coming = game.coming("film time,outcome\n0:02,goal\n12.5,save\n1:00,miss\n");
    REQUIRE(coming.shots.size() == 2);
    CHECK(coming.shots[0].at->frame == 60);
    CHECK(coming.shots[0].at->film_s == doctest::Approx(12.0));
    CHECK(coming.shots[1].at->frame == 375);
    CHECK(coming.shots[0].goalie_id == game.book.state().goalie_id);
    REQUIRE(coming.refused.size() == 1);
    CHECK(coming.refused[0].line == 4);
    CHECK(coming.refused[0].why == "the film time 1:00 is after the film's end, 0:29");
}

TEST_CASE("a period with its clock is placed by the film's clock marks; else it has no place yet") {
    OneGame game;
    game.read_clock(90, 2, 600.0); // 10:00 left at frame 90
    const auto coming = game.coming("period,clock\n2,9:50\n2,9:20\n3,5:00\n");
    REQUIRE(coming.shots.size() == 3);
    REQUIRE(coming.shots[0].at);
    CHECK(coming.shots[0].at->frame == 390);     // ten seconds later, 30 frames each
    CHECK_FALSE(coming.shots[1].at.has_value()); // after the film's last frame
    CHECK_FALSE(coming.shots[2].at.has_value());
}

TEST_CASE("the whole list is one change: undone as one, and done again as one") {
    OneGame game;
    game.take("film time,outcome,x,y,note\n2,goal,1.5,8,\"<b>said \"\"pass\"\"</b>, twice\"\n12.5,save,,,\n");
    const LogState& state = game.book.state();
    REQUIRE(state.shots.size() == 2);
    CHECK(game.book.file().undo_name() == "2 shots from list.csv");
    CHECK(state.shots[0].shot.frame == 60);
    CHECK(state.shots[0].shot.outcome == Outcome::goal);
    CHECK(state.shots[0].shot.note == "<b>said \"pass\"</b>, twice");
    const Moment* moment = main_moment(state.shots[0]);
    REQUIRE(moment);
    CHECK(moment->frame == 60);
    const Mark* puck = find_mark(*moment, MarkKind::puck);
    REQUIRE(puck);
    CHECK_FALSE(puck->at.has_value());
    CHECK(puck->ice->y_m == 8.0);
    CHECK_FALSE(open_fields(state.shots[0]).empty());
    game.book.apply(Undo{}, at(0));
    CHECK(state.shots.empty());
    game.book.apply(Redo{}, at(0));
    CHECK(state.shots.size() == 2);
}

TEST_CASE("shots brought in are tagged by who brought them in") {
    OneGame game;
    game.take("film time,outcome\n2,goal\n");
    game.book.apply(NameReviewer{"Ada Quill"}, at(0));
    game.take("period,clock,outcome\n1,12:00,save\n");
    const LogState& state = game.book.state();
    REQUIRE(state.shots.size() == 2);
    for (const ShotEntry& entry : state.shots)
        CHECK(entry.shot.tagged_by == (entry.shot.outcome == Outcome::goal ? "" : "Ada Quill"));
}

TEST_CASE("rows that are in the game already are told and not doubled") {
    OneGame game;
    const std::string list =
        "period,clock,film time,outcome\n1,12:00,2,goal\n1,11:40,,save\n1,11:00,20,miss\n";
    game.take(list);
    REQUIRE(game.book.state().shots.size() == 3);
    const auto again = game.coming(list);
    CHECK(again.shots.empty());
    REQUIRE(again.there.size() == 3);
    CHECK(again.there[0].line == 2);
    CHECK(again.there[0].where == "shot 1");
    CHECK(again.there[1].where == "shot 3"); // on no film: after those that are

    const auto near = game.coming("film time\n2.4\n2.6\n19.5\n");
    REQUIRE(near.there.size() == 2);
    REQUIRE(near.shots.size() == 1);
    CHECK(near.shots[0].listed.line == 3);
    const auto other_period = game.coming("period,clock\n2,11:40\n");
    CHECK(other_period.shots.size() == 1);
}

TEST_CASE("a row twice in the list comes once; a second shot in the same second comes too") {
    OneGame game;
    const auto coming = game.coming("film time,outcome\n2,save\n2,save\n2,goal\n");
    CHECK(coming.shots.size() == 2);
    REQUIRE(coming.there.size() == 1);
    CHECK(coming.there[0].line == 3);
    CHECK(coming.there[0].where == "line 2");
}

TEST_CASE("goalies are found by name or by a last name that is theirs alone; others are refused") {
    OneGame game;
    game.book.apply(NewGoalie{"Zoë Otero", "Harbour Pike"}, {});
    game.book.apply(NewGoalie{"Bo Varga", "Mill Town Otters"}, {});
    const auto coming = game.coming("film time,goalie\n1,ilse varga\n3,OTERO\n5,Varga\n7,Nobody\n9,\n");
    REQUIRE(coming.shots.size() == 3);
    CHECK(goalie_of(game.book.state(), coming.shots[0].goalie_id)->name == "Ilse Varga");
    CHECK(goalie_of(game.book.state(), coming.shots[1].goalie_id)->name == "Zoë Otero");
    CHECK(coming.shots[2].goalie_id == game.book.state().goalie_id);
    REQUIRE(coming.refused.size() == 2);
    CHECK(coming.refused[0].why == "\"Varga\" may be Bo Varga or Ilse Varga: say who is meant");
    CHECK(coming.refused[1].line == 5);
}

TEST_CASE("a shot without a place is not marked until it has one, which can be undone") {
    OneGame game;
    game.take("period,clock,x,y\n2,9:50,1.5,8\n");
    LogBook& book = game.book;
    REQUIRE(book.state().shots.size() == 1);
    CHECK(has_no_place(book.state(), book.state().shots[0].shot));
    book.apply(FilterList{"no place"}, at(0));
    CHECK(listed_shots(book.state()).size() == 1);
    book.apply(PickShot{0}, at(200));
    CHECK_FALSE(book.state().selection.jump().has_value());
    book.apply(Arm{Hand::goalie}, at(200));
    CHECK(book.state().selection.hand() == Hand::empty);
    CHECK(book.state().notice.text.find("no place on the film yet") != std::string::npos);
    book.apply(NewMoment{}, at(200));
    CHECK(book.state().shots[0].moments.size() == 1);

    book.apply(PlaceShotHere{}, at(200));
    const ShotEntry& entry = book.state().shots[0];
    CHECK_FALSE(has_no_place(book.state(), entry.shot));
    CHECK(entry.shot.frame == 200);
    CHECK(entry.shot.film_id == game.film.film_id);
    CHECK(entry.moments[0].frame == 200);
    CHECK(entry.moments[0].film_id == game.film.film_id);
    CHECK(find_mark(entry.moments[0], MarkKind::puck) != nullptr);
    CHECK(book.file().undo_name() == "place on the film, shot 1");
    fit_still(book, 40);
    book.apply(PickShot{0}, at(200));
    book.apply(Arm{Hand::goalie}, at(200));
    book.apply(FilmClick{seen({0.4, 1.0})}, at(200));
    // The puck's place came with the list, so one click on the goalie is enough for a depth: d = G.u, u =
    // P/|P|.
    REQUIRE(main_moment(book.state().shots[0])->reading);
    CHECK(main_moment(book.state().shots[0])->reading->depth_m ==
          doctest::Approx((0.4 * 1.5 + 1.0 * 8.0) / std::hypot(1.5, 8.0)).epsilon(1e-4));

    book.apply(PlaceShotHere{}, at(300)); // has its place already
    CHECK(book.state().shots[0].shot.frame == 200);
    for (int undos = 0; undos < 3; ++undos)
        book.apply(Undo{}, at(0));
    CHECK(has_no_place(book.state(), book.state().shots[0].shot));
}

TEST_CASE("when the clock is read off the film later, shots without a place are found") {
    OneGame game;
    game.take("period,clock\n2,9:50\n2,9:45\n3,1:00\n");
    CHECK(found_places(game.book.state(), game.film).empty());
    game.read_clock(90, 2, 600.0);
    const auto found = found_places(game.book.state(), game.film);
    REQUIRE(found.size() == 2);
    CHECK(found[0].at.frame == 390);
    game.book.apply(PutOnFilm{found}, at(0));
    CHECK(game.book.state().shots[0].shot.frame == 390);
    CHECK(game.book.state().shots[1].shot.frame == 540);
    CHECK(has_no_place(game.book.state(), game.book.state().shots[2].shot));
    game.book.apply(Undo{}, at(0));
    CHECK(found_places(game.book.state(), game.film).size() == 2);
}

TEST_CASE("a thousand rows come in at once and go out at once") {
    OneGame game;
    std::string list = "period,clock,outcome\n";
    for (int row = 0; row < 1'000; ++row)
        list += std::to_string(1 + row % 9) + "," + std::to_string(row / 9 / 60) + ":" +
                std::to_string(100 + row / 9 % 60).substr(1) + ",save\n";
    game.take(list);
    CHECK(game.book.state().shots.size() == 1'000);
    CHECK(game.coming(list).shots.empty());
    game.book.apply(Undo{}, at(0));
    CHECK(game.book.state().shots.empty());
}

TEST_CASE("a name that several fit is asked for once; told who it is, its rows come in") {
    OneGame game;
    game.book.apply(NewGoalie{"Bo Varga", "Mill Town Otters"}, {});
    const CsvTable table = csv_table("film time,goalie\n1,I. Varga\n3,Varga\n5,varga\n7,Kim Holt\n");
    const auto times = read_shot_times(table, guess_reading(table), rule_book(RuleBookId::nhl));
    const auto asked = coming_in(game.book.state(), times, game.film);
    REQUIRE(asked.shots.size() == 1);
    CHECK(goalie_of(game.book.state(), asked.shots[0].goalie_id)->name == "Ilse Varga");
    REQUIRE(asked.names.size() == 3); // as written, so that each can be pointed at
    CHECK(asked.names[0].meant.size() == 2);
    CHECK(asked.names[2].written == "Kim Holt");
    CHECK(asked.names[2].meant.empty());
    CHECK(asked.refused[2].why ==
          "no goalie of this season is \"Kim Holt\": say who is meant, or add the name");

    const Id bo = game.book.state().goalie_id; // the one added last is in net
    const auto told = coming_in(game.book.state(), times, game.film, {{"varga", bo}, {"kim holt", bo}});
    REQUIRE(told.shots.size() == 4);
    CHECK(told.shots[1].goalie_id == bo);
    CHECK(told.shots[2].goalie_id == bo);
    CHECK(told.names.empty());
}
