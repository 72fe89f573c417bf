// A scorer's list as shots: what the columns are taken for, what a row says, and why one is refused.
#include "intake/shot_times.h"

#include "intake/list_words.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <fmt/core.h>

using namespace ropeline;

namespace {

using Columns = std::vector<ListColumn>;

const RuleBook& nhl() {
    return rule_book(RuleBookId::nhl);
}

ShotTimes read(std::string_view text) {
    const CsvTable table = csv_table(text);
    return read_shot_times(table, guess_reading(table), nhl());
}

Columns guessed(std::string_view text) {
    return guess_reading(csv_table(text)).columns;
}

} // namespace

TEST_CASE("columns are known by the words of the head") {
    CHECK(guessed("Period,Game Clock,Result,Goaltender,Comments\n1,12:34,goal,Varga,x\n") ==
          Columns{ListColumn::period, ListColumn::clock_left, ListColumn::outcome, ListColumn::goalie,
                  ListColumn::note});
    CHECK(guessed("per;time;x_ft;y_ft;event\n1;12:34;20;30;save\n") ==
          Columns{ListColumn::period, ListColumn::clock_left, ListColumn::x, ListColumn::y,
                  ListColumn::outcome});
    CHECK(guessed("Time,Outcome\n754.2,goal\n") == Columns{ListColumn::film_time, ListColumn::outcome});
    CHECK(guessed("period,time elapsed\n1,2:00\n") == Columns{ListColumn::period, ListColumn::clock_gone});
    CHECK(guessed("video time\tshooter\tresult\n0:12:34\t#9\tmiss\n") ==
          Columns{ListColumn::film_time, ListColumn::unused, ListColumn::outcome});
}

TEST_CASE("without a head, columns are known by their values") {
    const auto reading = guess_reading(csv_table("1,19:40,goal\n1,12:10,wide\n2,0:05,saved\n"));
    CHECK_FALSE(reading.has_head);
    CHECK(reading.columns == Columns{ListColumn::period, ListColumn::clock_left, ListColumn::outcome});
    CHECK(guessed("12:34,1,post\n10:00,2,goal\n") ==
          Columns{ListColumn::clock_left, ListColumn::period, ListColumn::outcome});
    CHECK(guessed("61.5\n754.2\n1090\n") == Columns{ListColumn::film_time});
    CHECK(guessed("0:12:34,a long word of the coach\n1:02:03,another\n") ==
          Columns{ListColumn::film_time, ListColumn::note});
    CHECK(guessed("90.5,-12.0,33.1\n190.5,4.0,-3.5\n") ==
          Columns{ListColumn::film_time, ListColumn::x, ListColumn::y});
}

TEST_CASE("one thing is read from one column: picking it for another lets the first go") {
    auto reading = guess_reading(csv_table("1,19:40,18:00\n"));
    REQUIRE(reading.columns.size() == 3);
    reading = with_column(reading, 2, ListColumn::clock_left);
    CHECK(reading.columns == Columns{ListColumn::period, ListColumn::unused, ListColumn::clock_left});
    reading = with_column(reading, 9, ListColumn::note);
    CHECK(reading.columns.size() == 3);
}

TEST_CASE("a row gives period, clock, film time, outcome, goalie and note") {
    const auto times =
        read("period,clock,film time,outcome,goalie,note\n"
             "OT,0:59,1:02:03.5,\"save, rebound\",Ilse Varga,\"said \"\"pass\"\", <b>shot</b>\"\n"
             "p2,19:00,,,,\n");
    REQUIRE(times.refused.empty());
    REQUIRE(times.shots.size() == 2);
    const ListedShot& first = times.shots[0];
    CHECK(first.line == 2);
    CHECK(first.period == 4);
    CHECK(first.clock_s == 59.0);
    CHECK(first.film_s == 3723.5);
    CHECK(first.outcome == Outcome::save_rebound);
    CHECK(first.goalie == "Ilse Varga");
    CHECK(first.note == "said \"pass\", <b>shot</b>");
    CHECK(times.shots[1].period == 2);
    CHECK_FALSE(times.shots[1].film_s.has_value());
    CHECK_FALSE(times.shots[1].outcome.has_value());
}

TEST_CASE("time gone in the period is turned into time left") {
    const auto times = read("period,elapsed\n1,2:30\n1,20:00\n");
    REQUIRE(times.shots.size() == 2);
    CHECK(times.shots[0].clock_s == 1050.0); // 20:00 less 2:30
    CHECK(times.shots[1].clock_s == 0.0);
}

TEST_CASE("every refused row says its line and why, and the others still come") {
    const auto times = read("period,clock,outcome,x,y\n"
                            "1,25:10,goal,,\n"
                            "1,12:34,woosh,,\n"
                            "first,12:34,goal,,\n"
                            ",12:34,goal,,\n"
                            "2,,goal,,\n"
                            "2,12:75,goal,,\n"
                            "2,11:11,goal,5,\n"
                            "2,11:11,goal,500,3\n"
                            "2,11:11,goal,1,2,3,4\n"
                            "3,0:00,blocked,,\n");
    REQUIRE(times.shots.size() == 1);
    CHECK(times.shots[0].line == 11);
    std::vector<std::string> said;
    for (const RefusedRow& row : times.refused)
        said.push_back(fmt::format("line {}: {}", row.line, row.why));
    REQUIRE(said.size() == 9);
    CHECK(said[0] == "line 2: the clock 25:10 is longer than a period");
    CHECK(said[1].starts_with("line 3: the outcome \"woosh\" is not known; known are goal, save"));
    CHECK(said[2].starts_with("line 4: \"first\" is no period"));
    CHECK(said[3] == "line 5: there is a clock but no period");
    CHECK(said[4] == "line 6: there is neither a film time nor a period with its clock");
    CHECK(said[5].starts_with("line 7: \"12:75\" is no clock"));
    CHECK(said[6] == "line 8: the place \"5\", \"\" is not two numbers");
    CHECK(said[7].starts_with("line 9: the place 500, 3"));
    CHECK(said[8].starts_with("line 10: 7 fields where the list has 5"));
}

TEST_CASE("outcome words are taken as scorers write them, and never guessed") {
    for (const char* word : {"goal", "Goal", " GOAL ", "G", "scored"})
        CHECK(outcome_in(word) == Outcome::goal);
    for (const char* word : {"save", "Saved", "sv", "SAVE_HELD", "save, held"})
        CHECK(outcome_in(word) == Outcome::save_held);
    for (const char* word : {"save_rebound", "Save - rebound", "rebound"})
        CHECK(outcome_in(word) == Outcome::save_rebound);
    for (const char* word : {"post", "Crossbar", "hit post"})
        CHECK(outcome_in(word) == Outcome::post);
    for (const char* word : {"miss", "missed shot", "wide", "over"})
        CHECK(outcome_in(word) == Outcome::miss);
    for (const char* word : {"block", "Blocked", "blocked-shot", "BLK"})
        CHECK(outcome_in(word) == Outcome::block);
    for (const char* word : {"", "shot", "?", "goalish", "penalty"})
        CHECK_FALSE(outcome_in(word).has_value());
    for (int value = 0; value < 7; ++value) {
        const auto outcome = static_cast<Outcome>(value);
        CHECK(outcome_in(key_of(outcome)) == outcome);
        CHECK(outcome_in(label_of(outcome)) == outcome);
    }
}

TEST_CASE("times and periods are read in the forms that lists have, and nothing else is") {
    CHECK(time_in("754.2", false) == 754.2);
    CHECK(time_in("754,2", true) == 754.2);
    CHECK_FALSE(time_in("754,2", false).has_value());
    CHECK(time_in("12:34", false) == 754.0);
    CHECK(time_in("1:02:03", false) == 3723.0);
    for (const char* text : {"", ":", "1:", ":30", "1:2", "1:2:3:4", "-1:00", "1:-30", "1:60", "nan", "inf",
                             "1e9", "12:34 pm", "0x10"}) {
        CAPTURE(text);
        CHECK_FALSE(time_in(text, false).has_value());
    }
    for (const char* text : {"1", "P1", "p1", "1st", "Period 1", "per. 1", "1st period"}) {
        CAPTURE(text);
        CHECK(period_in(text) == 1);
    }
    CHECK(period_in("OT") == 4);
    CHECK(period_in("OT2") == 5);
    CHECK(period_in("2OT") == 5);
    for (const char* text : {"", "0", "-1", "1.5", "first", "12", "p", "ott"}) {
        CAPTURE(text);
        CHECK_FALSE(period_in(text).has_value());
    }
}

TEST_CASE("places in metres or feet, from the net or the middle of the rink, land on our ice") {
    // Rule 1.2 and 1.5, NHL: the rink is 200 ft long, the goal line 11 ft from the boards: 89 ft from the
    // middle.
    const auto from_middle = read("period,clock,x,y\n1,10:00,-69,-22\n1,9:00,69,22\n");
    REQUIRE(from_middle.shots.size() == 2);
    for (const ListedShot& shot : from_middle.shots) {
        REQUIRE(shot.puck);
        CHECK(shot.puck->x_m == doctest::Approx(22 * 0.3048).epsilon(1e-9));
        CHECK(shot.puck->y_m == doctest::Approx(20 * 0.3048).epsilon(1e-3));
    }
    const auto from_net = read("film s,x (m),y (m)\n100,3.5,9\n200,-3.5,9\n");
    REQUIRE(from_net.shots.size() == 2);
    CHECK(from_net.shots[0].puck->x_m == 3.5);
    CHECK(from_net.shots[0].puck->y_m == 9.0);
    const auto in_feet = read("film s,x (ft),y (ft)\n100,10,20\n");
    REQUIRE(in_feet.shots.size() == 1);
    CHECK(in_feet.shots[0].puck->y_m == doctest::Approx(6.096).epsilon(1e-9));
}

TEST_CASE("no bytes at all make the reader stumble, and each row comes in or is refused once") {
    const auto sound = [](const std::string& text) {
        const CsvTable table = csv_table(text);
        const ListReading reading = guess_reading(table);
        const ShotTimes times = read_shot_times(table, reading, nhl());
        return times.shots.size() + times.refused.size() ==
               table.rows.size() - (reading.has_head && !table.rows.empty() ? 1 : 0);
    };
    CHECK(rc::check([&](const std::vector<std::uint8_t>& bytes) {
        RC_ASSERT(sound(std::string(bytes.begin(), bytes.end())));
    }));
    CHECK(rc::check([&] {
        const auto text = *rc::gen::container<std::string>(
            rc::gen::elementOf(std::string{"\"\",,;\t\r\n\n0123456789::.-pogx\xc3\xa9\xff"}));
        RC_ASSERT(sound(text));
        RC_ASSERT(sound("period,clock,x,y,outcome\n" + text));
    }));
}
