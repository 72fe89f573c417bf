// The shot list: what the filter lets through, the orders, what walks along it, which columns fit.
#include "desk/made_book.h"
#include "desk/state/shot_list.h"
#include "season/folded.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace ropeline;
using namespace ropeline::test;

namespace {

using Indices = std::vector<std::size_t>;

/// Six shots of two goalies, at frames 100, 200 ... in film order.
struct Listed {
    Folder folder;
    LogBook book = begun(folder.path / "list.season");
    Id varga, otero;

    Listed() {
        varga = book.state().goalie_id;
        book.apply(NewGoalie{"Zoë Otero", "Harbour Pike"}, {});
        otero = book.state().goalie_id;
        log(100, varga, Read::shot, NextAction::shot, Situation::rush, Strength::even, Outcome::goal, 1,
            1000.0);
        log(200, otero, Read::pass, NextAction::shot, Situation::zone, Strength::even, Outcome::save_held, 1,
            900.0);
        log(300, varga, Read::shot, NextAction::pass, Situation::rush, Strength::short_handed, Outcome::goal,
            2, 1100.0);
        log(400, otero, Read::shot, NextAction::shot, Situation::rebound, Strength::even,
            Outcome::save_rebound, 2, 50.0);
        log(500, varga, std::nullopt, std::nullopt, std::nullopt, std::nullopt, std::nullopt, std::nullopt,
            std::nullopt);
        log(600, varga, Read::pass, NextAction::pass, Situation::breakaway, Strength::even, Outcome::miss, 3,
            600.0);
        book.apply(PutDown{}, at(0));
        book.apply(PutDown{}, at(0));
    }

    void log(std::int64_t frame, const Id& goalie, std::optional<Read> read, std::optional<NextAction> came,
             std::optional<Situation> situation, std::optional<Strength> strength,
             std::optional<Outcome> outcome, std::optional<int> period, std::optional<double> clock_s) {
        book.apply(NewShot{}, at(frame));
        Shot wanted;
        wanted.read = read;
        wanted.came = came;
        wanted.situation = situation;
        wanted.strength = strength;
        wanted.outcome = outcome;
        for (int field = 0; field < asked_fields; ++field) {
            const auto line = static_cast<CardField>(field);
            book.apply(ChooseIn{line, chosen_in(wanted, line)}, at(frame));
        }
        book.apply(PutClock{period, clock_s}, at(frame));
        book.apply(PickGoalie{goalie}, at(frame));
        book.apply(PutInNet{otero}, at(frame));
    }

    Indices found(const std::string& filter) {
        book.apply(FilterList{filter}, at(0));
        return listed_shots(book.state());
    }
    Indices sorted(ShotColumn by, bool falling = false) {
        book.apply(FilterList{}, at(0));
        while (book.state().list.by != by || book.state().list.falling != falling)
            book.apply(SortList{by}, at(0));
        return listed_shots(book.state());
    }
};

} // namespace

TEST_CASE("typed words find shots by goalie, read, outcome, situation, strength and period") {
    Listed list;
    CHECK(list.found("") == Indices{0, 1, 2, 3, 4, 5});
    CHECK(list.found("goal") == Indices{0, 2});
    CHECK(list.found("GOAL p2") == Indices{2});
    CHECK(list.found("p2 goal") == Indices{2});
    CHECK(list.found("ote") == Indices{1, 3});
    CHECK(list.found("ZOË") == Indices{1, 3});
    CHECK(list.found("save") == Indices{1, 3});
    CHECK(list.found("held") == Indices{1});
    CHECK(list.found("rebound otero") == Indices{3});
    CHECK(list.found("short") == Indices{2});
    CHECK(list.found("handed") == Indices{2});
    CHECK(list.found("misread") == Indices{1, 2});
    CHECK(list.found("read it") == Indices{0, 3, 5});
    CHECK(list.found("wrong").empty());
    CHECK(list.found("   rush   even ") == Indices{0});
    CHECK(list.found("arga").empty()); // not the beginning of a word
    CHECK(list.found("goal save").empty());
    CHECK(list.found("open").size() == 6);   // none has a depth yet
    CHECK(list.found("16:4") == Indices{0}); // the clock, as it is shown
    CHECK(list.found("p4").empty());
}

TEST_CASE("a filter looks at band and verdict, the reviewer's before the model's") {
    Listed list;
    fit_still(list.book, 90);
    list.book.apply(PickShot{0}, at(100));
    for (const IcePoint place : {IcePoint{0.9, 1.2}, IcePoint{0.5, 1.5}, IcePoint{5.0, 9.0}}) {
        list.book.apply(Arm{place.y_m > 5.0   ? Hand::puck
                            : place.x_m > 0.7 ? Hand::first_skate
                                              : Hand::second_skate},
                        at(100));
        list.book.apply(FilmClick{seen(place)}, at(100));
    }
    const Moment* moment = main_moment(list.book.state().shots[0]);
    REQUIRE(moment->reading);
    CHECK(list.found(std::string{label_of(moment->reading->band)}) == Indices{0});
    REQUIRE(model_verdict(*moment));
    CHECK(list.found(std::string{label_of(*model_verdict(*moment))}) == Indices{0});
    list.book.apply(PickShot{0}, at(100));
    list.book.apply(Overrule{Verdict::over_challenged, "my own eyes"}, at(100));
    CHECK(list.found("challenged") == Indices{0});
    CHECK(list.found("OVER-CH") == Indices{0});
    CHECK(list.found("open") == Indices{1, 2, 3, 4, 5});
}

TEST_CASE("every column sorts, both ways round, with what is not known last") {
    Listed list;
    CHECK(list.sorted(ShotColumn::number, true) == Indices{5, 4, 3, 2, 1, 0});
    CHECK(list.sorted(ShotColumn::time) == Indices{0, 1, 2, 3, 5, 4}); // the clock runs down
    CHECK(list.sorted(ShotColumn::goalie) == Indices{0, 2, 4, 5, 1, 3});
    CHECK(list.sorted(ShotColumn::goalie, true) == Indices{1, 3, 0, 2, 4, 5});
    CHECK(list.sorted(ShotColumn::outcome) == Indices{0, 2, 1, 3, 5, 4});
    CHECK(list.sorted(ShotColumn::outcome, true) == Indices{5, 3, 1, 0, 2, 4});
    CHECK(list.sorted(ShotColumn::situation).back() == 4);
    CHECK(list.sorted(ShotColumn::read) == Indices{0, 2, 3, 1, 5, 4});
    for (int column = 0; column < shot_columns; ++column) {
        for (const bool falling : {false, true})
            CHECK(list.sorted(static_cast<ShotColumn>(column), falling).size() == 6);
    }
}

TEST_CASE("up and down walk along what is listed, in its order") {
    Listed list;
    LogBook& book = list.book;
    list.found("goal");
    book.apply(PickShotBy{1}, at(0));
    CHECK(chosen_index(book.state()) == 0);
    book.apply(PickShotBy{1}, at(0));
    CHECK(chosen_index(book.state()) == 2);
    CHECK(book.state().selection.jump() == 300);
    book.apply(PickShotBy{1}, at(0));
    CHECK(chosen_index(book.state()) == 2);
    list.sorted(ShotColumn::number, true);
    book.apply(PickShotBy{1}, at(0));
    CHECK(chosen_index(book.state()) == 1);
    list.found("nothing like that");
    book.apply(PickShotBy{1}, at(0));
    CHECK(chosen_index(book.state()) == 1);
    CHECK(book.state().notice.text.find("clears the filter") != std::string::npos);
}

TEST_CASE("a shot removed from the list is back with undo, and the next one is picked meanwhile") {
    Listed list;
    LogBook& book = list.book;
    list.found("goal");
    book.apply(PickShot{0}, at(100));
    const Id next = book.state().shots[2].shot.id;
    book.apply(RemoveShot{.whole = true}, at(100));
    CHECK(book.state().shots.size() == 5);
    REQUIRE(chosen_index(book.state()));
    CHECK(chosen_shot(book.state())->shot.id == next);
    CHECK(book.file().undo_name() == "remove shot 1");
    book.apply(Undo{}, at(100));
    CHECK(book.state().shots.size() == 6);
}

TEST_CASE("a cell changed in the list is the card's own change, with its name") {
    Listed list;
    LogBook& book = list.book;
    book.apply(PickShot{4}, at(0));
    book.apply(ChooseIn{CardField::outcome, 1}, at(0));
    CHECK(book.file().undo_name() == "outcome, shot 5");
    book.apply(PickGoalie{list.otero}, at(0));
    CHECK(book.file().undo_name() == "goalie, shot 5");
    CHECK(cell_words(book.state(), book.state().shots[4], ShotColumn::goalie) == "Zoë Otero");
    book.apply(Undo{}, at(0));
    CHECK(cell_words(book.state(), book.state().shots[4], ShotColumn::goalie) == "Ilse Varga");
}

TEST_CASE("cells say the clock, else the film time from the film's start") {
    Listed list;
    const LogState& state = list.book.state();
    CHECK(cell_words(state, state.shots[0], ShotColumn::time) == "P1 16:40");
    CHECK(cell_words(state, state.shots[4], ShotColumn::time) == "0:17"); // frame 500 at 30 a second
    CHECK(cell_words(state, state.shots[3], ShotColumn::outcome) == "save, rebound");
    CHECK(cell_words(state, state.shots[4], ShotColumn::outcome).empty());
}

TEST_CASE(
    "as many columns as fit are shown, the needed ones first, and the verdict shortens before one is lost") {
    std::array<float, shot_columns> wide{};
    wide.fill(50.0F);
    wide[static_cast<std::size_t>(ShotColumn::verdict)] = 120.0F;
    using enum ShotColumn;
    CHECK(columns_in(10.0F, wide, 20.0F, {}).columns == std::vector{number});
    const auto narrow = columns_in(230.0F, wide, 20.0F, {});
    CHECK(narrow.columns == std::vector{number, time, read, verdict, outcome});
    CHECK(narrow.short_verdict);
    const auto room = columns_in(420.0F, wide, 20.0F, {});
    CHECK_FALSE(room.short_verdict);
    CHECK(room.columns == std::vector{number, time, goalie, band, read, verdict, outcome});
    const auto all = columns_in(5000.0F, wide, 20.0F, {});
    CHECK(all.columns ==
          std::vector{number, time, goalie, band, depth, read, verdict, outcome, situation, strength, note});
    CHECK_FALSE(all.short_verdict);
    // What the season's card asks for gets a column each; they go before a column that every list has does.
    const std::set<std::string> asks{"net_place", "sight", "tags"};
    const auto asked = columns_in(5000.0F, wide, 20.0F, asks);
    CHECK(asked.columns == columns_of(asks));
    CHECK(asked.columns == std::vector{number, time, goalie, band, depth, read, verdict, outcome, situation,
                                       strength, shot_column(Detail::sight), shot_column(Detail::net_place),
                                       note});
    CHECK(columns_in(575.0F, wide, 20.0F, asks).columns == columns_in(575.0F, wide, 20.0F, {}).columns);
    CHECK(columns_in(625.0F, wide, 20.0F, asks).columns.back() == shot_column(Detail::sight));
}

TEST_CASE("a column of what is logged besides says it, sorts by it and leads to its line of the card") {
    const ShotColumn went = shot_column(Detail::net_place), sight = shot_column(Detail::sight);
    LogState state;
    state.shots.resize(3);
    state.shots[0].shot.details.set(Detail::net_place, 4);
    state.shots[2].shot.details.set(Detail::net_place, 1);
    state.shots[1].moments.resize(1);
    state.shots[1].moments[0].details.set(Detail::sight, 3);
    CHECK(label_of(went) == "puck went");
    CHECK(cell_words(state, state.shots[0], went) == "low glove");
    CHECK(cell_words(state, state.shots[1], went).empty());
    CHECK(cell_words(state, state.shots[1], sight) == "screened");
    CHECK(cell_words(state, state.shots[0], sight).empty()); // it has no moment
    CHECK(field_of(went) == card_field(Detail::net_place));
    CHECK_FALSE(field_of(sight)); // it is the moment's in hand, not the shot's
    state.list.by = went;
    CHECK(listed_shots(state) == Indices{2, 0, 1});
    state.list.falling = true;
    CHECK(listed_shots(state) == Indices{0, 2, 1}); // not known stands last all the same
    const std::set<std::string> asks{"net_place"};
    CHECK(column_after(ShotColumn::strength, asks) == went);
    CHECK(column_after(went, asks) == ShotColumn::note);
    CHECK(column_after(went, {}) == ShotColumn::note); // when it is asked for no more
    CHECK(column_after(ShotColumn::note, asks) == ShotColumn::number);
}

TEST_CASE("capitals of the alphabets of hockey's countries count for nothing") {
    CHECK(folded("ÅSA ÖBERG") == "åsa öberg");
    CHECK(folded("ŠŤASTNÝ Żółć ŁUKASZ") == "šťastný żółć łukasz");
    CHECK(folded("ПЁТР") == "пётр");
    CHECK(folded("ΟΔΥΣΣΕΑΣ") == "οδυσσεασ");
    CHECK(folded("a×b") == "a×b");
    CHECK(folded("GROß") == folded("Gross"));         // Unicode's CaseFolding.txt, from memory
    CHECK(folded("Zoe\u0308") == folded("ZO\u00cb")); // a diaeresis of its own, as some systems write it
    const std::string broken = "\xc3\xff\xc3";
    CHECK(folded(broken) == broken);
}
