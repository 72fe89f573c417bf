// The model written a second time, by itself: the worked plays of its definition (NHL, senior), each worked
// out independently on a grid of 2 to 3 cm.
#include "measure/by_definition.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace ropeline;
using namespace ropeline::by_definition;

namespace {

struct Worked {
    std::string situation, likelihood;
    Place puck;
    std::vector<Opponent> threats;
    double from, to;
};

Moment moment_of(const Worked& play) {
    Moment moment;
    moment.situation = play.situation;
    moment.likelihood = play.likelihood;
    moment.puck = play.puck;
    moment.goalie = play.puck / std::abs(play.puck);
    moment.threats = play.threats;
    return moment;
}

const std::vector<Worked> worked_plays{
    {"rush", "", {5, 9}, {{{-4, 7}, "stop"}}, 0.30, 2.23},
    {"rush", "", {5, 9}, {{{-4, 7}, "one_timer"}}, 0.28, 1.22},
    {"rush", "shot", {5, 9}, {{{-4, 7}, "one_timer"}}, 0.30, 1.44},
    {"rush", "", {5, 9}, {{{-4, 7}, "one_timer", "contested"}}, 0.28, 1.53},
    {"rush", "shot", {3, 10}, {}, 1.10, 2.58},
    {"rush", "shot", {2, 6}, {}, 2.45, 2.58},
    {"breakaway", "", {1, 8}, {}, 3.13, 3.33},
    {"zone", "pass", {6.5, 4.5}, {{{0.5, 6}, "stop"}}, 0.65, 1.63},
    {"zone", "shot", {0.5, 6}, {}, 1.78, 1.98},
    {"zone", "pass", {6.7, 6.1}, {{{0, 7}, "one_timer"}, {{-2, 1.5}, "one_timer"}}, 0.24, 0.69},
    {"zone", "pass", {6.7, 6.1}, {}, 0.53, 1.35},
    {"zone", "shot", {6.7, 6.1}, {}, 0.91, 1.80},
    {"penalty_kill", "", {5.5, 8}, {{{-1.6, 0.9}, "stop"}}, 0.32, 1.63},
    {"penalty_kill", "", {5.5, 8}, {{{-1.6, 0.9}, "one_timer"}}, 0.27, 0.52},
    {"zone", "", {-1.2, 17}, {{{1.2, 17}, "one_timer"}}, 0.07, 1.32},
    {"rush", "", {5, 9}, {{{0.4, 0.8}, "stop"}}, 0.28, 0.89}, // no further out than the man
    {"zone", "shot", {5, 12}, {{{-1.1, 1.0}, "tip"}}, 0.25, 0.69},
    {"zone", "", {2, 17}, {{{0.5, 4}, "tip"}}, 1.45, 1.98},
    {"rebound", "", {0.8, 2.4}, {}, 0.84, 1.03},
    {"zone", "", {2, 28}, {}, 0.0, 0.75},
};

} // namespace

TEST_CASE("the second implementation advises the worked plays within ten centimetres") {
    for (const Worked& play : worked_plays) {
        const Answer found = answer(moment_of(play), rule_book(RuleBookId::nhl), Settings{});
        CAPTURE(play.puck.real());
        CAPTURE(play.situation);
        REQUIRE(found.advised);
        CHECK(std::abs(found.advised->from - play.from) <= 0.10);
        CHECK(std::abs(found.advised->to - play.to) <= 0.10);
    }
}

TEST_CASE("the second implementation knows the two plays that are on the post") {
    for (const Place puck : {Place{1.6, 0.4}, Place{6.7, 2.0}}) {
        Moment moment;
        moment.puck = puck;
        moment.goalie = {0.9, 0.1};
        const Answer at_post = answer(moment, rule_book(RuleBookId::nhl), Settings{});
        CHECK(at_post.on_post);
        CHECK(!at_post.advised);
        CHECK(at_post.verdict == "right_depth");
        moment.goalie = {0.0, 0.4};
        CHECK(answer(moment, rule_book(RuleBookId::nhl), Settings{}).verdict == "off_the_post");
    }
}

// Worked by hand: in 0.6 s, of which it takes 0.25 s to see the pass, he comes 0.70 m at 2 m/s.
TEST_CASE("the second implementation counts what was within reach of the moment before") {
    Moment moment;
    moment.puck = {0.0, 6.0};
    moment.goalie = {0.0, 0.95};
    moment.situation = "zone";
    moment.likelihood = "shot";
    const auto verdict = [&] { return answer(moment, rule_book(RuleBookId::nhl), Settings{}).verdict; };
    CHECK(verdict() == "sat_back");
    moment.before = {{0.5, 0.8}, 0.6}; // as far as 0.8 + 0.7 - 0.5 = 1.0 m
    CHECK(verdict() == "right_depth");
    moment.before = {{0.5, 1.1}, 0.6}; // as far as 1.3 m
    CHECK(verdict() == "sat_back");
    moment.before = {{0.75, 1.1}, 0.6}; // not even onto the line
    CHECK(verdict() == "beaten_across");
}
