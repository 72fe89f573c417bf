// Plays with the stretch that an independent calculation on a grid of 2 to 3 cm advises (senior, NHL), written
// down before this code was: within 0.10 m of it, or, where the play is flat there, within 0.01 of the net of
// the level that ends the stretch.
#include "depth/usual.h"
#include "depth/verdict.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace ropeline;
using namespace ropeline::usual;

namespace {

struct Worked {
    std::string name;
    IcePoint puck;
    std::vector<Threat> threats;
    Situation situation;
    Likelihood likelihood;
    double from_m, to_m;
};

using enum ReceiverKind;
using enum Likelihood;
using enum Situation;

// "Either" where the play does not say what the body says; the shot that is tipped is a likely shot.
const std::vector<Worked> plays{
    {"2-on-1, mate stops it", {5, 9}, {{{-4, 7}, stop}}, rush, either, 0.30, 2.23},
    {"2-on-1, one-timer", {5, 9}, {{{-4, 7}, one_timer}}, rush, either, 0.28, 1.22},
    {"2-on-1, one-timer, body says shot", {5, 9}, {{{-4, 7}, one_timer}}, rush, shot, 0.30, 1.44},
    {"2-on-1, contested", {5, 9}, {{{-4, 7}, one_timer, Lane::contested}}, rush, either, 0.28, 1.53},
    {"alone from the left dot's height", {3, 10}, {}, rush, shot, 1.10, 2.58},
    {"alone, near", {2, 6}, {}, rush, shot, 2.45, 2.58},
    {"breakaway", {1, 8}, {}, breakaway, shot, 3.13, 3.33},
    {"pass into the slot", {6.5, 4.5}, {{{0.5, 6}, stop}}, zone, pass, 0.65, 1.63},
    {"release in the slot", {0.5, 6}, {}, zone, either, 1.78, 1.98},
    {"turning away, two one-timers",
     {6.7, 6.1},
     {{{0, 7}, one_timer}, {{-2, 1.5}, one_timer}},
     zone,
     pass,
     0.24,
     0.69},
    {"turning away, nobody marked", {6.7, 6.1}, {}, zone, pass, 0.53, 1.35},
    {"sure shot from the dot", {6.7, 6.1}, {}, zone, shot, 0.91, 1.80},
    {"penalty kill, man at the side stops it",
     {5.5, 8},
     {{{-1.6, 0.9}, stop}},
     penalty_kill,
     either,
     0.32,
     1.63},
    {"penalty kill, one-timer", {5.5, 8}, {{{-1.6, 0.9}, one_timer}}, penalty_kill, either, 0.27, 0.52},
    {"defender to defender", {-1.2, 17}, {{{1.2, 17}, one_timer}}, zone, either, 0.07, 1.32},
    // The grid let him skate through the man once he stood in him, and gave 1.29, 0.4 m beyond the man.
    {"man on the doorstep", {5, 9}, {{{0.4, 0.8}, stop}}, rush, either, 0.28, 0.89},
    {"tip beside the net", {5, 12}, {{{-1.1, 1.0}, tip}}, zone, shot, 0.25, 0.69},
    {"tip in the slot", {2, 17}, {{{0.5, 4}, tip}}, zone, either, 1.45, 1.98},
    {"loose puck", {0.8, 2.4}, {}, rebound, either, 0.84, 1.03},
};

} // namespace

TEST_CASE("the worked plays' advised stretches") {
    for (const Worked& play : plays) {
        CAPTURE(play.name);
        const PlayMarks marks{play.puck, play.threats, play.situation, play.likelihood, Sight::clear};
        const Play asked = play_of(marks, nhl, senior);
        const Advice advice = advise(marks, asked, nhl, senior);
        CAPTURE(advice.from_m);
        CAPTURE(advice.to_m);
        const auto agrees = [&](double found_m, double worked_m) {
            const double there = net_left(asked, puck_line(play.puck) * worked_m);
            return std::abs(found_m - worked_m) <= 0.10 ||
                   std::abs(there - (advice.left_best + senior.worth)) <= 0.01;
        };
        CHECK(agrees(advice.from_m, play.from_m));
        CHECK(agrees(advice.to_m, play.to_m));
    }
}

TEST_CASE("below the dots the post, beyond the red line home") {
    for (const IcePoint puck : {IcePoint{1.6, 0.4}, IcePoint{6.7, 2.0}}) {
        MarkedMoment moment;
        moment.puck = puck;
        moment.stance = stance_from_mark({0.9, 0.2});
        const Decision decision = decide(moment, nhl, senior);
        CHECK(decision.on_post);
        CHECK_FALSE(decision.advice);
        CHECK(decision.verdict == Verdict::right_depth);
    }
    MarkedMoment far;
    far.puck = {2, 28};
    far.stance = stance_from_mark({0.0, 0.5});
    const Decision decision = decide(far, nhl, senior);
    REQUIRE(decision.advice);
    CHECK(decision.advice->limit == Limit::home);
    CHECK(decision.advice->from_m == 0.0);
    CHECK(decision.advice->to_m == doctest::Approx(0.75));
}
