// Verdicts, by where the goalie stood and what could be known.
#include "depth/usual.h"
#include "depth/verdict.h"

#include <doctest/doctest.h>

#include <vector>

using namespace ropeline;
using namespace ropeline::usual;

namespace {

constexpr IcePoint carrier{5.0, 9.0};
const std::vector<Threat> across{{{-4.0, 7.0}, ReceiverKind::one_timer}};
const std::vector<Threat> none;

MarkedMoment at(IcePoint puck, double out_m, double beside_m, const std::vector<Threat>& threats,
                Situation situation = Situation::rush) {
    const IcePoint u = puck_line(puck);
    MarkedMoment moment;
    moment.stance = stance_from_mark(u * out_m + IcePoint{u.y_m, -u.x_m} * beside_m);
    moment.puck = puck;
    moment.threats = threats;
    moment.situation = situation;
    return moment;
}
Verdict verdict(const MarkedMoment& moment) {
    return decide(moment, nhl, senior).verdict;
}

} // namespace

TEST_CASE("within the stretch right, further out over-challenged for a pass, too far out without one, deeper "
          "sat back") {
    CHECK(verdict(at(carrier, 0.8, 0.0, across)) == Verdict::right_depth);
    CHECK(verdict(at(carrier, 2.3, 0.0, across)) == Verdict::over_challenged);
    CHECK(verdict(at({0.5, 6.0}, 2.6, 0.0, none, Situation::zone)) == Verdict::too_far_out);
    CHECK(verdict(at({0.5, 6.0}, 1.2, 0.0, none, Situation::zone)) == Verdict::sat_back);
}

TEST_CASE("the tolerance is half a skate at either end") {
    const Advice advice = *decide(at({0.5, 6.0}, 1.8, 0.0, none, Situation::zone), nhl, senior).advice;
    const auto there = [&](double out_m) {
        return verdict(at({0.5, 6.0}, out_m, 0.0, none, Situation::zone));
    };
    CHECK(there(advice.from_m - 0.149) == Verdict::right_depth);
    CHECK(there(advice.from_m - 0.151) == Verdict::sat_back);
    CHECK(there(advice.to_m + 0.149) == Verdict::right_depth);
    CHECK(there(advice.to_m + 0.151) == Verdict::too_far_out);
}

TEST_CASE("beside the line at the right depth: off angle, moving or not") {
    MarkedMoment beside = at({0.5, 6.0}, 1.9, 0.45, none, Situation::zone);
    CHECK(verdict(beside) == Verdict::off_angle);
    beside.set = false;
    CHECK(verdict(beside) == Verdict::off_angle);
}

TEST_CASE("what came next changes no verdict, only what is said beside it") {
    MarkedMoment moment = at(carrier, 2.3, 0.0, across);
    for (const auto next : {NextAction::shot, NextAction::pass, NextAction::carry, NextAction::none}) {
        moment.next = next;
        CHECK(verdict(moment) == Verdict::over_challenged);
    }
    CHECK_FALSE(decide(moment, nhl, senior).on_what_came);
    moment.next = NextAction::shot;
    const Decision shot = decide(moment, nhl, senior);
    REQUIRE(shot.on_what_came);
    CHECK(shot.on_what_came->open == shot.shot_open);
    moment.next = NextAction::pass;
    CHECK_FALSE(decide(moment, nhl, senior).on_what_came); // nobody is known to have got it
    const std::vector<Threat> got{{{-4.0, 7.0}, ReceiverKind::one_timer, Lane::open, true}};
    moment.threats = got;
    const Decision pass = decide(moment, nhl, senior);
    REQUIRE(pass.on_what_came);
    CHECK(pass.on_what_came->threat == 0);
    CHECK(pass.on_what_came->open == pass.threats[0].open_on_arrival);
    CHECK(pass.on_what_came->open > pass.on_what_came->from_advised);
}

TEST_CASE("a tipped shot is judged at the one who tipped it") {
    const std::vector<Threat> tips{{{0.5, 4.0}, ReceiverKind::tip, Lane::open, true}};
    MarkedMoment moment = at({2, 17}, 1.6, 0.0, tips, Situation::zone);
    moment.next = NextAction::shot;
    CHECK(decide(moment, nhl, senior).on_what_came->threat == 0);
}

TEST_CASE("after a pass, what was within reach counts") {
    // Release in the slot; a moment before he stood 0.8 m out on the carrier's line at (6.5, 4.5).
    const IcePoint slot{0.5, 6.0}, before = puck_line({6.5, 4.5}) * 0.8;
    MarkedMoment release = at(slot, 0.9, 0.0, none, Situation::zone);
    CHECK(verdict(release) == Verdict::sat_back);
    MarkedMoment short_of_it = at(slot, 0.9, 0.45, none, Situation::zone);
    // Half a second less 0.25 s at 2 m/s: 0.5 m, and the new line is 0.61 m away: nobody gets there.
    short_of_it.before = Before{before, 2.0};
    CHECK(verdict(short_of_it) == Verdict::sat_back);
    short_of_it.before = Before{before, 0.5};
    CHECK(verdict(short_of_it) == Verdict::beaten_across);
    // 0.6 s: 0.7 m, so 0.09 m out along the line is left of it: from 0.52 m to about 0.6 m.
    release.before = Before{before, 0.6};
    const Decision reached = decide(release, nhl, senior);
    REQUIRE(reached.within_reach);
    CHECK(reached.within_reach->line);
    CHECK(reached.within_reach->push_m == doctest::Approx(0.70));
    CHECK(reached.verdict == Verdict::right_depth);
    CHECK(reached.advice->from_m == doctest::Approx(reached.within_reach->furthest_m));
    release.before = Before{before, 2.0};
    CHECK(verdict(release) == Verdict::sat_back);
}

TEST_CASE("gave away: what he leaves less what the best spot leaves") {
    const Decision decision = decide(at(carrier, 2.3, 0.0, across), nhl, senior);
    CHECK(*decision.gave_away == doctest::Approx(decision.left - decision.advice->left_best));
    CHECK(*decision.gave_away > senior.worth);
    CHECK(*decide(at(carrier, decision.advice->best_m, 0.0, across), nhl, senior).gave_away ==
          doctest::Approx(0.0).epsilon(1e-9));
}

TEST_CASE("a depth that gave nothing away is not blamed for being near the puck") {
    const IcePoint puck{-0.08, 2.5};
    const Decision near = decide(at(puck, 2.18, 0.0, none, Situation::breakaway), nhl, senior);
    CHECK(near.advice->limit == Limit::gap); // nor is it advised
    CHECK(near.advice->to_m + senior.depth_tolerance_m < 2.18);
    CHECK(*near.gave_away < 0.0);
    CHECK(near.verdict == Verdict::right_depth);
    CHECK(verdict(at(puck, 2.6, 0.0, none, Situation::breakaway)) == Verdict::too_far_out); // past the puck
    CHECK(verdict(at(puck, 2.18, 0.0, none, Situation::zone)) == Verdict::too_far_out); // not allowed there
}

TEST_CASE("nobody is told to stand further out than the man on the doorstep, or than the puck") {
    const std::vector<Threat> doorstep{{{0.4, 0.8}, ReceiverKind::stop}};
    const Decision decision = decide(at(carrier, 1.2, 0.0, doorstep), nhl, senior);
    CHECK(decision.advice->to_m < length(doorstep[0].at) + 0.05);
    CHECK(decision.verdict == Verdict::over_challenged);
    for (const Situation situation : {Situation::rush, Situation::zone, Situation::breakaway})
        CHECK(decide(at({0.4, 0.8}, 0.3, 0.0, none, situation), nhl, senior).advice->to_m < 0.8);
}

TEST_CASE("on the post: right there, off the post anywhere else, never sat back") {
    MarkedMoment low;
    low.puck = {6.7, 2.0};
    low.stance = stance_from_mark({0.85, 0.15});
    CHECK(verdict(low) == Verdict::right_depth);
    low.stance = stance_from_mark({0.3, 0.9});
    CHECK(verdict(low) == Verdict::off_the_post);
}

TEST_CASE("a place that is no number is not judged") {
    MarkedMoment moment = at(carrier, 1.0, 0.0, none);
    moment.puck.x_m = std::nan("");
    CHECK(verdict(moment) == Verdict::not_judged);
}

TEST_CASE("keys of verdicts and next actions go round") {
    for (const Verdict word :
         {Verdict::right_depth, Verdict::over_challenged, Verdict::too_far_out, Verdict::sat_back,
          Verdict::off_angle, Verdict::beaten_across, Verdict::off_the_post, Verdict::not_judged})
        CHECK(verdict_from_key(key_of(word)) == word);
    CHECK(next_action_from_key("carry") == NextAction::carry);
    CHECK_FALSE(next_action_from_key("dive").has_value());
    CHECK_FALSE(verdict_from_key("right_read").has_value());
}
