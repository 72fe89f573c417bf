#include "season/clock_words.h"

#include <doctest/doctest.h>

namespace ropeline {

TEST_CASE("a game clock is read as period and time left, the period may be left out") {
    const auto both = read_clock("2 14:35");
    REQUIRE(both);
    CHECK(both->period == 2);
    CHECK(both->clock_s == 875.0);
    CHECK(read_clock("  P3  0:07 ")->period == 3);
    CHECK(read_clock("P3 0:07")->clock_s == 7.0);
    const auto alone = read_clock("14:35");
    REQUIRE(alone);
    CHECK_FALSE(alone->period);
    CHECK(read_clock("20:00")->clock_s == 1200.0);
    CHECK(read_clock("0:07.4")->clock_s == doctest::Approx(7.4));
}

TEST_CASE("what is no game clock is not read") {
    for (const char* text : {"", " ", "2", "14", "14:5", "14:60", "21:00", "20:01", "0 14:35", "x 14:35",
                             "2 14:35 x", "-1:00", "14:-5", "14:355", "99 1:00", ":30", "14:"}) {
        CAPTURE(text);
        CHECK_FALSE(read_clock(text));
    }
}

TEST_CASE("a game time is shown with its period; overtimes follow the third") {
    CHECK(game_time_words(2, 875.0) == "P2 14:35");
    CHECK(game_time_words(1, 1200.0) == "P1 20:00");
    CHECK(game_time_words(4, 61.0) == "OT 1:01");
    CHECK(game_time_words(5, 0.2) == "OT2 0:00");
    CHECK(game_time_words(std::nullopt, 59.6) == "1:00");
}

} // namespace ropeline
