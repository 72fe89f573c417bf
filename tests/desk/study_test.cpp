#include "desk/state/study.h"

#include <doctest/doctest.h>

using namespace ropeline;

namespace {

ShotFact fact(const char* date, Read read, NextAction came, Verdict verdict) {
    ShotFact one;
    one.shot_id = std::string("shot ") + date;
    one.moment_id = std::string("moment ") + date;
    one.goalie_id = "goalie";
    one.game_date = date;
    one.read = read;
    one.came = came;
    one.depth_m = 1.2;
    one.verdict = verdict;
    return one;
}

} // namespace

TEST_CASE("the queue: misread ones, those not at the right depth, the newest game first") {
    const std::vector<ShotFact> facts = {
        fact("2026-10-01", Read::shot, NextAction::shot, Verdict::right_depth),
        fact("2026-10-08", Read::shot, NextAction::pass, Verdict::over_challenged),
        fact("2026-10-15", Read::pass, NextAction::shot, Verdict::sat_back),
        fact("2026-10-22", Read::shot, NextAction::shot, Verdict::off_angle),
        fact("2026-10-29", Read::shot, NextAction::carry, Verdict::not_judged)};
    StudyFilter filter;
    const auto misread_ones = study_queue(facts, filter);
    REQUIRE(misread_ones.size() == 2);
    CHECK(misread_ones[0].game_date == "2026-10-15");
    filter.what = StudyWhat::not_right;
    CHECK(study_queue(facts, filter).size() == 3);
    filter.what = StudyWhat::all;
    CHECK(study_queue(facts, filter).size() == 5);
    filter.goalie_id = "somebody else";
    CHECK(study_queue(facts, filter).empty());
}

TEST_CASE("the reviewer's verdict decides whether a decision is in the queue") {
    ShotFact one = fact("2026-10-01", Read::shot, NextAction::shot, Verdict::sat_back);
    StudyFilter filter;
    filter.what = StudyWhat::not_right;
    CHECK(in_queue(one, filter));
    one.overruled = Verdict::right_depth;
    CHECK_FALSE(in_queue(one, filter));
}

TEST_CASE("where a pass came, the decision at the pass is studied") {
    ShotFact one = fact("2026-10-01", Read::shot, NextAction::pass, Verdict::right_depth);
    CHECK(studied_moment(one) == one.moment_id);
    one.pass = ShotFact::PassFact{};
    one.pass->moment_id = "the pass";
    one.pass->depth_m = 2.1;
    one.pass->verdict = Verdict::over_challenged;
    CHECK(studied_moment(one) == "the pass");
    CHECK(studied_verdict(one) == Verdict::over_challenged);
    CHECK(studied_depth_m(one) == 2.1);
    one.came = NextAction::shot;
    CHECK(studied_moment(one) == one.moment_id);
}

TEST_CASE("answers are summed up: calls by what came, places by the advised stretch") {
    Answer answer;
    answer.read = Read::pass;
    answer.ice = IcePoint{0.0, 1.5};
    answer.advised_from_m = 1.2;
    answer.advised_to_m = 1.4;
    const IcePoint puck{0.0, 9.0};
    Answer too_far = answer; // 0.40 m: more than the 0.30 m that count as right
    too_far.ice = IcePoint{0.0, 1.8};
    const std::vector<AnsweredMoment> answers = {
        {answer, NextAction::pass, puck},
        {answer, NextAction::shot, puck},
        {too_far, NextAction::carry, puck},
        {too_far, NextAction::pass, std::nullopt}}; // nowhere to measure from
    const StudySum sum = sum_of(answers, 0.30);
    CHECK_FALSE(right_call(Read::pass, NextAction::carry).has_value());
    CHECK(right_call(Read::shot, NextAction::pass) == false);
    CHECK(sum.calls.right == 2);
    CHECK(sum.calls.of == 3);
    CHECK(sum.places.right == 2);
    CHECK(sum.places.of == 3);
}

TEST_CASE("a goalie's own place is right within the tolerance of the stretch, else too far out or too deep "
          "by so much") {
    const Parameters parameters = parameters_for(Level::senior);
    const RuleBook& rules = rule_book(RuleBookId::nhl);
    MarkedMoment moment;
    moment.puck = {0.0, 9.0};
    Decision decision;
    Advice& advice = decision.advice.emplace();
    advice.from_m = 1.2;
    advice.to_m = 1.9;
    const auto words = [&](IcePoint place) {
        return words_of_place(place, moment, decision, rules, parameters);
    };
    CHECK(words({0.0, 1.5}).right);
    CHECK(words({0.0, 1.5}).text == "You: 1.50 m out, right depth.");
    CHECK(words({0.0, 1.91}).right);
    CHECK(words({0.0, 2.5}).text == "You: 2.50 m out, 0.60 m too far out.");
    CHECK(words({0.0, 0.5}).text == "You: 0.50 m out, 0.70 m too deep.");
    moment.puck = {3.0, 0.2};
    decision.advice.reset();
    decision.on_post = true;
    CHECK(words({0.9, 0.2}).right);
    CHECK_FALSE(words({0.0, 1.0}).right);
    CHECK(words({0.0, 1.0}).text.find("off the post") != std::string::npos);
}
