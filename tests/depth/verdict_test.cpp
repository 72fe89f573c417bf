// Verdicts, their reasons, and where they would flip.
#include "depth/reason.h"

#include <doctest/doctest.h>

#include <vector>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);
const Parameters senior = parameters_for(Level::senior);
constexpr IcePoint puck{5.0, 7.0};
const std::vector<Threat> across{{{-4.0, 6.0}, true, true}};

struct Judged {
    Decision decision;
    std::vector<Flip> flips;
    std::string reason;
};

MarkedMoment at_depth(double depth_m, double off_m, std::optional<NextAction> next,
                      const std::vector<Threat>& threats) {
    const IcePoint u = puck_line(puck);
    return {.stance = stance_from_mark(u * depth_m + IcePoint{u.y_m, -u.x_m} * off_m),
            .puck = puck,
            .threats = threats,
            .situation = Situation::rush,
            .likelihood = Likelihood::either,
            .next = next,
            .set = std::nullopt};
}

Judged judge(const MarkedMoment& moment, const Parameters& parameters = senior) {
    Judged judged{decide(moment, nhl, parameters), find_flips(moment, nhl, parameters, Level::senior), {}};
    judged.reason = reason_for(moment, judged.decision, judged.flips, Level::senior);
    return judged;
}

bool says(const std::string& text, std::string_view words) {
    return text.find(words) != std::string::npos;
}

} // namespace

TEST_CASE("too far out for the pass that came") {
    const Judged judged = judge(at_depth(2.2, 0.0, NextAction::pass, across));
    CHECK(judged.decision.verdict == Verdict::over_challenged);
    CHECK(judged.decision.threat == 0);
    CHECK(says(judged.reason, "Over-challenged: 2.20 m out"));
    CHECK(says(judged.reason, "one-timer on the far side"));
    CHECK(says(judged.reason, "from memory"));
}

TEST_CASE("at the advised depth every pass that counts can be reached") {
    const double advised = advise(puck, across, Situation::rush, Likelihood::either, nhl, senior).depth_m;
    const Judged judged = judge(at_depth(advised - 1e-9, 0.0, NextAction::pass, across));
    CHECK(judged.decision.verdict == Verdict::right_read);
    CHECK(says(judged.reason, "every pass could be reached"));
}

TEST_CASE("a pass lost from the advised depth, off the line: off angle, not over-challenged") {
    const double advised = advise(puck, across, Situation::rush, Likelihood::either, nhl, senior).depth_m;
    const Judged judged = judge(at_depth(advised - 0.05, 0.6, NextAction::pass, across));
    CHECK(judged.decision.verdict == Verdict::off_angle);
}

TEST_CASE("a pass that no depth in play can reach is no fault") {
    const Judged judged = judge(at_depth(2.0, 0.0, NextAction::pass, {{{4.0, 6.0}, true, true}}));
    CHECK(judged.decision.verdict == Verdict::right_read);
    CHECK(says(judged.reason, "could not be reached from the advised depth either"));
}

TEST_CASE("a shot: sat back, off angle, late, right") {
    CHECK(judge(at_depth(2.5, 0.0, NextAction::shot, {})).decision.verdict == Verdict::right_read);
    CHECK(judge(at_depth(2.5 - 0.299, 0.0, NextAction::shot, {})).decision.verdict == Verdict::right_read);
    const Judged deep = judge(at_depth(2.5 - 0.301, 0.0, NextAction::shot, {}));
    CHECK(deep.decision.verdict == Verdict::sat_back);
    CHECK(says(deep.reason, "Sat back: 2.20 m out where 2.50 m was there to take"));

    MarkedMoment beside = at_depth(2.5, 0.45, NextAction::shot, {});
    CHECK(decide(beside, nhl, senior).verdict == Verdict::off_angle);
    CHECK(says(judge(beside).reason, "0.45 m to the right of the puck line"));
    beside.set = false;
    CHECK(decide(beside, nhl, senior).verdict == Verdict::late);
    CHECK(says(judge(beside).reason, "Late: still moving at the release"));
    beside.set = true;
    CHECK(decide(beside, nhl, senior).verdict == Verdict::off_angle);
}

TEST_CASE("what standing off the line opens, by similar triangles") {
    // Puck straight out at 9 m, goalie 1 m out and 0.2 m to the left: the near edge of the shadow moves by
    // 0.2 x 9 / 8 on the goal line. A block square to the puck turns by 1.4 degrees, which moves that edge a
    // little more: under one part in fifty.
    const auto opened = opened_off_line_m({-0.2, 1.0}, {0.0, 9.0}, nhl, senior);
    REQUIRE(opened);
    CHECK(*opened == doctest::Approx(0.2 * 9.0 / 8.0).epsilon(0.02));
    CHECK(opened_off_line_m({0.0, 1.0}, {0.0, 9.0}, nhl, senior) == doctest::Approx(0.0));
    CHECK_FALSE(opened_off_line_m({0.2, 0.1}, {3.0, 0.0}, nhl, senior).has_value());
}

TEST_CASE("not judged says what is missing") {
    CHECK(says(judge(at_depth(2.0, 0.0, std::nullopt, across)).reason, "the next action is not known"));
    CHECK(says(judge(at_depth(2.0, 0.0, NextAction::pass, {})).reason, "no threat is marked"));
    CHECK(says(judge(at_depth(2.0, 0.0, NextAction::carry, across)).reason, "neither a shot nor a pass"));
    for (const auto next : {NextAction::carry, NextAction::none})
        CHECK(judge(at_depth(2.0, 0.0, next, across)).decision.verdict == Verdict::not_judged);
}

TEST_CASE("a flip is where the verdict changes, and nowhere before") {
    const MarkedMoment moment = at_depth(1.0, 0.0, NextAction::pass, across);
    const Judged judged = judge(moment);
    REQUIRE_FALSE(judged.flips.empty());
    for (const Flip& flip : judged.flips) {
        CAPTURE(flip.parameter);
        const double start = parameter(senior, flip.parameter).value();
        const auto verdict_at = [&](double share) {
            Parameters changed = senior;
            set_parameter(changed, flip.parameter, start + (flip.value - start) * share);
            return decide(moment, nhl, changed).verdict;
        };
        CHECK(verdict_at(1.0) == flip.becomes);
        CHECK(flip.becomes != judged.decision.verdict);
        for (int i = 0; i <= 999; ++i)
            CHECK(verdict_at(i / 1000.0) == judged.decision.verdict);
    }
    CHECK(says(judged.reason, "it would be"));
    CHECK(says(judged.reason, "stated range"));
}

TEST_CASE("a verdict no parameter can turn says so") {
    const Judged judged = judge(at_depth(2.5, 0.0, NextAction::shot, {}));
    CHECK(judged.flips.empty());
    CHECK(says(judged.reason, "this holds over the stated range of every parameter"));
}

TEST_CASE("reasons are one sentence, in metres or feet") {
    for (const double depth : {0.5, 1.2, 2.6}) {
        for (const auto next : {std::optional<NextAction>{}, std::optional{NextAction::shot},
                                std::optional{NextAction::pass}, std::optional{NextAction::none}}) {
            const MarkedMoment moment = at_depth(depth, 0.3, next, across);
            const Decision decision = decide(moment, nhl, senior);
            const auto flips = find_flips(moment, nhl, senior, Level::senior);
            for (const LengthUnit unit : {LengthUnit::metres, LengthUnit::feet}) {
                const std::string text = reason_for(moment, decision, flips, Level::senior, unit);
                CHECK(text.ends_with("."));
                CHECK_FALSE(says(text, ". "));
                CHECK(says(text, unit == LengthUnit::feet ? " ft" : " m"));
                CHECK(advice_for(moment, decision.advice, unit).ends_with("."));
            }
        }
    }
}

TEST_CASE("keys of verdicts and next actions go round") {
    for (const Verdict verdict : {Verdict::right_read, Verdict::over_challenged, Verdict::sat_back,
                                  Verdict::off_angle, Verdict::late, Verdict::not_judged})
        CHECK(verdict_from_key(key_of(verdict)) == verdict);
    CHECK(next_action_from_key("carry") == NextAction::carry);
    CHECK_FALSE(next_action_from_key("dive").has_value());
    CHECK_FALSE(verdict_from_key("lucky").has_value());
}
