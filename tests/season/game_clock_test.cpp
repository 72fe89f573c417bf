// The rules of the clock: counts down, stands at a whistle, a new period starts anew (common practice, and
// NHL Rule 77.1 from memory).
#include "season/game_clock.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

using doctest::Approx;

ClockMark mark(double film_s, int period, double clock_s, bool running = true) {
    ClockMark made;
    made.film_s = film_s;
    made.frame = std::llround(30.0 * film_s);
    made.pts_ticks = made.frame;
    made.period = period;
    made.clock_s = clock_s;
    made.running = running;
    return made;
}

/// A film with the game's stoppages: a whistle at 14:35, the next face-off 40 s of film later, period 2.
std::vector<ClockMark> marked_film() {
    return {mark(100.0, 1, 900.0), mark(125.0, 1, 875.0, false), mark(165.0, 1, 875.0),
            mark(1500.0, 2, 1200.0)};
}

void check_time(const std::vector<ClockMark>& marks, double film_s, int period, double clock_s,
                bool standing) {
    CAPTURE(film_s);
    const auto time = game_time_at(marks, film_s);
    REQUIRE(time);
    CHECK(time->period == period);
    CHECK(time->clock_s == Approx(clock_s));
    CHECK(time->standing == standing);
}

/// Marks as a coach can set them: in film order, the clock never rising within a period.
std::vector<ClockMark> any_marks() {
    const int count = *rc::gen::inRange(1, 8);
    std::vector<ClockMark> marks;
    double film_s = 0.1 * *rc::gen::inRange(0, 6000);
    int period = 1;
    double clock_s = 0.1 * *rc::gen::inRange(0, 12001);
    for (int index = 0; index < count; ++index) {
        marks.push_back(mark(film_s, period, clock_s, *rc::gen::inRange(0, 3) != 0));
        film_s += 0.1 * *rc::gen::inRange(1, 3000);
        if (*rc::gen::inRange(0, 4) == 0) {
            ++period;
            clock_s = 0.1 * *rc::gen::inRange(0, 12001);
        } else {
            clock_s = std::max(0.0, clock_s - 0.1 * *rc::gen::inRange(0, 3000));
        }
    }
    return marks;
}

} // namespace

TEST_CASE("without a clock mark there is no game clock") {
    CHECK_FALSE(game_time_at({}, 12.0));
    CHECK_FALSE(film_s_at({}, 1, 900.0));
    CHECK_FALSE(contradicted({}, mark(0.0, 1, 900.0)));
}

TEST_CASE("a running clock counts down a second a second") {
    const auto marks = marked_film();
    check_time(marks, 100.0, 1, 900.0, false);
    check_time(marks, 110.5, 1, 889.5, false);
    check_time(marks, 200.0, 1, 840.0, false);
}

TEST_CASE("a whistle holds the clock until the mark that starts it again") {
    const auto marks = marked_film();
    check_time(marks, 125.0, 1, 875.0, true);
    check_time(marks, 164.9, 1, 875.0, true);
    check_time(marks, 165.0, 1, 875.0, false);
}

TEST_CASE("a clock that nobody stopped never runs past the next mark of its period") {
    const std::vector<ClockMark> marks = {mark(0.0, 1, 600.0), mark(90.0, 1, 570.0)};
    check_time(marks, 29.0, 1, 571.0, false);
    check_time(marks, 31.0, 1, 570.0, true);
    check_time(marks, 89.9, 1, 570.0, true);
    check_time(marks, 95.0, 1, 565.0, false);
}

TEST_CASE("before the first mark the clock counts up from it, to a whole period at most") {
    const auto marks = marked_film();
    check_time(marks, 40.0, 1, 960.0, false);
    check_time({mark(100.0, 1, 1150.0)}, 20.0, 1, 1200.0, true);
    // A whistle at the first mark says nothing of the time before it: there the clock ran.
    check_time({mark(100.0, 1, 900.0, false)}, 90.0, 1, 910.0, false);
}

TEST_CASE("a new period starts at its own mark; until then the one before runs out and stands at 0:00") {
    const auto marks = marked_film();
    check_time(marks, 1039.0, 1, 1.0, false);
    check_time(marks, 1041.0, 1, 0.0, true);
    check_time(marks, 1499.0, 1, 0.0, true);
    check_time(marks, 1500.0, 2, 1200.0, false);
    check_time(marks, 1501.0, 2, 1199.0, false);
    check_time(marks, 9999.0, 2, 0.0, true);
}

TEST_CASE("the order in which marks were made does not matter") {
    auto marks = marked_film();
    std::ranges::reverse(marks);
    check_time(marks, 110.5, 1, 889.5, false);
    check_time(marks, 1501.0, 2, 1199.0, false);
    CHECK(film_s_at(marks, 1, 889.5) == Approx(110.5));
}

TEST_CASE("a game clock leads to the first film time that shows it") {
    const auto marks = marked_film();
    CHECK(*film_s_at(marks, 1, 889.5) == Approx(110.5));
    CHECK(*film_s_at(marks, 1, 875.0) == Approx(125.0)); // the whistle, not the face-off
    CHECK(*film_s_at(marks, 1, 874.0) == Approx(166.0));
    CHECK(*film_s_at(marks, 1, 960.0) == Approx(40.0)); // before the first mark
    CHECK(*film_s_at(marks, 1, 0.0) == Approx(1040.0));
    CHECK(*film_s_at(marks, 2, 1190.0) == Approx(1510.0));
}

TEST_CASE("a game clock that the film never shows leads nowhere") {
    const auto marks = marked_film();
    CHECK_FALSE(film_s_at(marks, 3, 600.0));
    CHECK_FALSE(film_s_at(marks, 1, 1300.0));
    CHECK_FALSE(film_s_at({mark(0.0, 1, 600.0), mark(10.0, 2, 1100.0)}, 2, 1150.0)); // before period 2's mark
    CHECK_FALSE(film_s_at({mark(0.0, 1, 600.0, false)}, 1, 500.0));                  // stands for good
    CHECK_FALSE(
        film_s_at({mark(0.0, 1, 600.0), mark(10.0, 2, 1100.0)}, 1, 580.0)); // cut into the next period
}

TEST_CASE("where a cut film jumps over a game clock, the film goes to the mark after the jump") {
    const std::vector<ClockMark> marks = {mark(0.0, 1, 600.0), mark(30.0, 1, 400.0)};
    CHECK(*film_s_at(marks, 1, 590.0) == Approx(10.0));
    CHECK(*film_s_at(marks, 1, 450.0) == Approx(30.0));
    CHECK(*film_s_at(marks, 1, 390.0) == Approx(40.0));
}

TEST_CASE("a mark whose clock rises within a period contradicts the one before it") {
    const auto marks = marked_film();
    const auto told = contradicted(marks, mark(140.0, 1, 880.0));
    REQUIRE(told);
    CHECK(told->film_s == 125.0);
    const auto later = contradicted(marks, mark(130.0, 1, 860.0));
    REQUIRE(later);
    CHECK(later->film_s == 165.0);
    CHECK_FALSE(contradicted(marks, mark(140.0, 1, 875.0)));
    CHECK_FALSE(contradicted(marks, mark(500.0, 1, 500.0)));
}

TEST_CASE("a mark of a period that lies before an earlier one contradicts it") {
    const auto marks = marked_film();
    const auto told = contradicted(marks, mark(1600.0, 1, 100.0));
    REQUIRE(told);
    CHECK(told->period == 2);
    CHECK(contradicted(marks, mark(50.0, 2, 1000.0))->film_s == 100.0);
}

TEST_CASE("a mark at the frame of another replaces it and does not contradict it") {
    const auto marks = marked_film();
    CHECK_FALSE(contradicted(marks, mark(100.0, 1, 910.0)));
    CHECK(contradicted(marks, mark(100.0, 1, 870.0))->film_s == 125.0);
}

TEST_CASE("every clock that a film shows is found again, at that time or earlier") {
    CHECK(rc::check([] {
        const auto marks = any_marks();
        const double film_s = 0.1 * *rc::gen::inRange(-3000, 40000) + 0.03;
        const GameTime shown = *game_time_at(marks, film_s);
        RC_PRE(film_s >= marks.front().film_s || !shown.standing); // before the period it stands for ever
        const auto back = film_s_at(marks, shown.period, shown.clock_s);
        RC_ASSERT(back.has_value());
        RC_ASSERT(*back <= film_s + 1e-6);
        const GameTime again = *game_time_at(marks, *back + 1e-9);
        RC_ASSERT(again.period == shown.period);
        RC_ASSERT(std::abs(again.clock_s - shown.clock_s) < 1e-6);
    }));
}

TEST_CASE("the clock never rises within a period, and the period never falls") {
    CHECK(rc::check([] {
        const auto marks = any_marks();
        const double from_s = 0.1 * *rc::gen::inRange(-3000, 40000);
        const double to_s = from_s + 0.1 * *rc::gen::inRange(0, 5000);
        const GameTime from = *game_time_at(marks, from_s);
        const GameTime to = *game_time_at(marks, to_s);
        RC_ASSERT(to.period >= from.period);
        if (to.period == from.period) RC_ASSERT(to.clock_s <= from.clock_s + 1e-9);
        RC_ASSERT(to.clock_s >= 0.0);
    }));
}

TEST_CASE("marks that a film's own clock gives contradict none of its marks") {
    CHECK(rc::check([] {
        const auto marks = any_marks();
        const double film_s = 0.1 * *rc::gen::inRange(-3000, 40000) + 0.05;
        const GameTime shown = *game_time_at(marks, film_s);
        RC_ASSERT(!contradicted(marks, mark(film_s, shown.period, shown.clock_s, !shown.standing)));
    }));
}

} // namespace ropeline
