// What the sentences claim, checked against the figures: 40 000 plays.
#include "depth/any_play.h"
#include "depth/reason.h"
#include "depth/usual.h"
#include "rink/units.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <regex>
#include <string>
#include <vector>

using namespace ropeline;
using namespace ropeline::usual;
using namespace ropeline::any;

namespace {

/// The number after these words; none when they are not there.
std::optional<double> after(const std::string& text, const std::string& words) {
    const auto at = text.find(words);
    if (at == std::string::npos) return std::nullopt;
    return std::stod(text.substr(at + words.size()));
}

/// Half a unit of the last place shown.
bool rounds_to(double value, double shown, double unit) {
    return std::abs(value - shown) <= 0.5001 * unit;
}

void check_passes(const MarkedMoment& moment, const Decision& decision, const std::string& text) {
    RC_ASSERT(says(text, "no pass option logged") ==
              (moment.threats.empty() && moment.situation != Situation::rebound));
    RC_ASSERT(says(text, "nobody logged beside the loose puck") ==
              (moment.threats.empty() && moment.situation == Situation::rebound));
    bool anybody = false, late = false, spare = false, net = false;
    for (const ThreatReading& threat : decision.threats) {
        if (!(threat.chance > 0.0)) continue;
        anybody = true;
        if (const auto shown = after(text, "late by "))
            late = late || (threat.late_s > 0.0 && rounds_to(threat.late_s, *shown, 0.01));
        if (const auto shown = after(text, "there with "))
            spare = spare || (threat.spare_s > 0.0 && rounds_to(threat.spare_s, *shown, 0.01));
        if (std::smatch match;
            std::regex_search(text, match, std::regex{"([0-9]+) % of the net open at that shot"}))
            net = net || rounds_to(100.0 * threat.open_on_arrival, std::stod(match[1]), 1.0);
    }
    RC_ASSERT(says(text, "nobody logged could shoot") == (!moment.threats.empty() && !anybody));
    RC_ASSERT(says(text, "late by ") == late);
    RC_ASSERT(says(text, "there with ") == spare);
    RC_ASSERT(says(text, "open at that shot") == net);
}

void check_depth(const MarkedMoment& moment, const Decision& decision, const RuleBook& rules,
                 const std::string& text) {
    RC_ASSERT(says(text, "wrong side of the net's middle") == (decision.reading.depth_m < 0.0));
    if (decision.reading.depth_m >= 0.0)
        RC_ASSERT(rounds_to(decision.reading.depth_m, *after(text, "; "), 0.01));
    RC_ASSERT(says(text, "the post matters, not depth") == decision.on_post);
    if (!decision.advice) return;
    const Advice& advice = *decision.advice;
    const std::string told = text.substr(text.find("advised ") + 8);
    const double first = std::stod(told.starts_with("up to ") ? told.substr(6) : told);
    const auto second = after(told.substr(0, told.find(": ")), " to ");
    RC_ASSERT(rounds_to(advice.to_m, second.value_or(first), 0.01));
    if (second && !told.starts_with("up to ")) RC_ASSERT(rounds_to(advice.from_m, first, 0.01));
    RC_ASSERT(says(text, "at the red line or beyond") ==
              (advice.limit == Limit::home && moment.puck.y_m >= rules.red_line_centre.m));
    RC_ASSERT(says(text, "gets more of the net") == (advice.limit == Limit::pass));
    RC_ASSERT(says(text, "the body says pass") == (advice.limit == Limit::inside_paint));
    if (says(text, "any nearer")) RC_ASSERT(advice.to_m < length(moment.puck));
}

void check_headline(const Decision& decision, const std::string& text) {
    if (const auto beyond = after(text, "Over-challenged: "))
        RC_ASSERT(rounds_to(decision.reading.depth_m - decision.advice->to_m, *beyond, 0.1));
    if (const auto beyond = after(text, "Too far out: by "))
        RC_ASSERT(rounds_to(decision.reading.depth_m - decision.advice->to_m, *beyond, 0.1));
    if (const auto short_by = after(text, "Sat back: there was time and room for "))
        RC_ASSERT(rounds_to(decision.advice->from_m - decision.reading.depth_m, *short_by, 0.1));
    if (const auto beside = after(text, "Off angle: "))
        RC_ASSERT(rounds_to(std::abs(decision.reading.off_angle_m), *beside, 0.1));
    if (decision.verdict == Verdict::off_angle)
        RC_ASSERT(says(text, "to the goalie's right") == (decision.reading.off_angle_m > 0.0));
}

} // namespace

TEST_CASE("every claim of a sentence is true of its play") {
    for (int times = 0; times < 4; ++times) {
        CHECK(ten_thousand([] {
            AnyMoment any = any_moment();
            any.moment.set = *rc::gen::inRange(0, 2) == 0 ? std::optional{false} : std::nullopt;
            const Decision decision = decide(any.moment, *any.rules, any.parameters);
            Firmness firmness{between(0.0, 1.0), "lateral_speed_mps", Verdict::sat_back};
            const std::string text = reason_for(any.moment, decision, firmness, any.level, *any.rules);
            RC_ASSERT(text.ends_with(".") && !says(text, ". ") && !says(text, "nan") && !says(text, "  "));
            check_headline(decision, text);
            check_depth(any.moment, decision, *any.rules, text);
            check_passes(any.moment, decision, text);
            RC_ASSERT(says(text, "still moving") == (any.moment.set == false));
            RC_ASSERT(says(text, "close call") == (firmness.share < firm_from));
            RC_ASSERT((says(text, "more of the net than from") || says(text, "far to go back")) ==
                      decision.gave_away.has_value());
            RC_ASSERT(says(text, "% more of the net") ==
                      (decision.gave_away.has_value() && 100.0 * *decision.gave_away >= 0.5));
            RC_ASSERT(says(text, "that came found") == decision.on_what_came.has_value());
            RC_ASSERT(says(text, "no time to push") ==
                      (decision.advice && decision.within_reach && !decision.within_reach->line &&
                       decision.within_reach->push_m < 0.005));
        }));
    }
}

TEST_CASE("one line that anybody understands, in metres, feet or skate lengths") {
    MarkedMoment moment;
    const std::vector<Threat> mate{{{-4.0, 7.0}, ReceiverKind::one_timer}};
    moment.puck = {5.0, 9.0};
    moment.threats = mate;
    moment.situation = Situation::rush;
    moment.stance = stance_from_mark(puck_line(moment.puck) * 2.3);
    const Decision decision = decide(moment, rule_book(RuleBookId::nhl), parameters_for(Level::senior));
    const double beyond_m = 2.3 - decision.advice->to_m;
    CHECK(headline_for(decision) ==
          fmt::format("Over-challenged: {:.1f} m too far out to get to the pass", beyond_m));
    CHECK(headline_for(decision, LengthUnit::feet) ==
          fmt::format("Over-challenged: {:.1f} ft too far out to get to the pass", to_feet(beyond_m)));
    CHECK(headline_for(decision, LengthUnit::skate_lengths) ==
          "Over-challenged: 3.5 skate lengths too far out to get to the pass");
    CHECK(in_words(0.3, LengthUnit::skate_lengths) == "a skate length");
    CHECK(in_words(0.16, LengthUnit::skate_lengths) == "half a skate length");
    CHECK(says(advice_for(moment, decision, rule_book(RuleBookId::nhl)),
               "any further out, the one-timer on the far side gets more of the net"));
}

TEST_CASE("home, the post and what nobody logged are told as they are") {
    const auto told = [&](IcePoint puck, Likelihood likelihood) {
        MarkedMoment moment;
        moment.puck = puck;
        moment.stance = stance_from_mark({0.0, 0.5});
        moment.likelihood = likelihood;
        return advice_for(moment, decide(moment, nhl, parameters_for(Level::senior)), nhl);
    };
    CHECK(told({2, 28}, Likelihood::either) ==
          "Up to 0.75 m out: the puck is at the red line or beyond: stay home.");
    CHECK(told({1.6, 0.4}, Likelihood::either) == "On the post: the angle is too sharp for depth.");
    CHECK(says(told({6.7, 6.1}, Likelihood::pass), "nobody who could shoot is logged: inside the paint"));
}
