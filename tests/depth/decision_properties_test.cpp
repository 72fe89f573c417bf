// What must hold anywhere on the ice, and no number that is not one.
#include "depth/flip.h"
#include "depth/net_seen.h"
#include "depth/sequence.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <vector>

using namespace ropeline;

namespace {

double between(double low, double high) {
    return low + (high - low) * *rc::gen::inRange(0, 1'000'000) / 1e6;
}
IcePoint anywhere() {
    return {between(-13.0, 13.0), between(-4.0, 30.0)};
}
IcePoint mirrored(IcePoint at) {
    return {-at.x_m, at.y_m};
}
bool same(double a, double b) {
    return std::abs(a - b) <= 1e-9 * (1.0 + std::abs(a));
}

const RuleBook& any_rules() {
    return rule_books()[static_cast<std::size_t>(*rc::gen::inRange(0, 4))];
}
Parameters any_parameters() {
    return parameters_for(static_cast<Level>(*rc::gen::inRange(0, 4)));
}

std::vector<Threat> any_threats() {
    std::vector<Threat> threats(static_cast<std::size_t>(*rc::gen::inRange(0, 4)));
    for (Threat& threat : threats)
        threat = {anywhere(), *rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>()};
    return threats;
}

MarkedMoment any_moment(const std::vector<Threat>& threats) {
    return {.stance = stance_from_mark({between(-2.0, 2.0), between(-0.5, 4.0)}),
            .puck = anywhere(),
            .threats = threats,
            .situation = static_cast<Situation>(*rc::gen::inRange(0, 6)),
            .likelihood = static_cast<Likelihood>(*rc::gen::inRange(0, 3)),
            .next = static_cast<NextAction>(*rc::gen::inRange(0, 4)),
            .set = *rc::gen::arbitrary<bool>()};
}

bool finite(const Decision& decision) {
    bool all = std::isfinite(decision.advice.depth_m) && std::isfinite(decision.advice.cap_m) &&
               std::isfinite(decision.depth_error_m) && std::isfinite(decision.opened_m.value_or(0.0));
    for (const ThreatReading& threat : decision.threats) {
        for (const double number :
             {threat.pass_s, threat.have_s, threat.need_s, threat.margin_s,
              threat.reach_depth_m.value_or(0.0), threat.new_spot.x_m, threat.new_spot.y_m,
              threat.arrives_at.x_m, threat.arrives_at.y_m, threat.coverage_on_arrival.value_or(0.0)})
            all = all && std::isfinite(number);
    }
    return all;
}

} // namespace

TEST_CASE("margins fall with depth on the puck line") {
    CHECK(rc::check([] {
        const IcePoint puck = anywhere();
        const Threat threat{anywhere(), *rc::gen::arbitrary<bool>(), true};
        const Parameters parameters = any_parameters();
        const double deeper = between(0.0, 3.0), further = between(deeper, 4.0);
        const auto margin = [&](double depth) {
            return read_threat(threat, puck_line(puck) * depth, puck, any_rules(), parameters).margin_s;
        };
        RC_ASSERT(margin(further) <= margin(deeper) + 1e-9);
    }));
}

TEST_CASE("a depth within reach has no negative margin, one beyond has") {
    CHECK(rc::check([] {
        const IcePoint puck = anywhere();
        const Threat threat{anywhere(), *rc::gen::arbitrary<bool>(), true};
        const Parameters parameters = any_parameters();
        const double depth = between(0.0, 5.0);
        const ThreatReading reading =
            read_threat(threat, puck_line(puck) * depth, puck, any_rules(), parameters);
        if (!reading.reach_depth_m)
            RC_ASSERT(reading.margin_s >= -1e-9);
        else if (depth < *reading.reach_depth_m - 1e-9)
            RC_ASSERT(reading.margin_s >= -1e-9);
        else if (depth > *reading.reach_depth_m + 1e-9)
            RC_ASSERT(reading.margin_s <= 1e-9);
        if (reading.margin_s >= 0.0) RC_ASSERT(reading.arrives_at == reading.new_spot);
    }));
}

TEST_CASE("the advised depth keeps its limits, and more threats never advise more depth") {
    CHECK(rc::check([] {
        const auto threats = any_threats();
        const MarkedMoment moment = any_moment(threats);
        const Parameters parameters = any_parameters();
        const RuleBook& rules = any_rules();
        const Advice advice =
            advise(moment.puck, threats, moment.situation, moment.likelihood, rules, parameters);
        RC_ASSERT(advice.depth_m >= parameters.defensive_depth_m);
        RC_ASSERT(advice.depth_m <= advice.cap_m);
        auto more = threats;
        more.push_back({anywhere(), false, true});
        RC_ASSERT(advise(moment.puck, more, moment.situation, moment.likelihood, rules, parameters).depth_m <=
                  advice.depth_m);
        RC_ASSERT(
            advise(moment.puck, threats, moment.situation, Likelihood::pass, rules, parameters).depth_m <=
            advise(moment.puck, threats, moment.situation, Likelihood::shot, rules, parameters).depth_m);
    }));
}

TEST_CASE("mirror images give mirror figures") {
    CHECK(rc::check([] {
        const auto threats = any_threats();
        const MarkedMoment moment = any_moment(threats);
        const Parameters parameters = any_parameters();
        const RuleBook& rules = any_rules();
        auto turned = threats;
        for (Threat& threat : turned)
            threat.at = mirrored(threat.at);
        MarkedMoment mirror = moment;
        mirror.stance = stance_from_mark(mirrored(moment.stance.goalie));
        mirror.puck = mirrored(moment.puck);
        mirror.threats = turned;
        const Decision one = decide(moment, rules, parameters), other = decide(mirror, rules, parameters);
        RC_ASSERT(one.verdict == other.verdict);
        RC_ASSERT(one.threat == other.threat);
        RC_ASSERT(one.advice.limit == other.advice.limit);
        RC_ASSERT(same(one.advice.depth_m, other.advice.depth_m));
        for (std::size_t i = 0; i < threats.size(); ++i) {
            RC_ASSERT(same(one.threats[i].margin_s, other.threats[i].margin_s));
            RC_ASSERT(same(one.threats[i].coverage_on_arrival.value_or(0.0),
                           other.threats[i].coverage_on_arrival.value_or(0.0)));
            RC_ASSERT(distance(mirrored(one.threats[i].new_spot), other.threats[i].new_spot) < 1e-9);
        }
    }));
}

TEST_CASE("flips come with a verdict that differs, inside the stated range") {
    CHECK(rc::check([] {
        const auto threats = any_threats();
        const MarkedMoment moment = any_moment(threats);
        const Level level = static_cast<Level>(*rc::gen::inRange(0, 4));
        const Parameters parameters = parameters_for(level);
        const Decision decision = decide(moment, any_rules(), parameters);
        for (const Flip& flip : find_flips(moment, any_rules(), parameters, level)) {
            const ParameterRange range =
                find_parameter(flip.parameter)->stated->at(static_cast<std::size_t>(level));
            RC_ASSERT(flip.value >= range.low - 1e-12 && flip.value <= range.high + 1e-12);
            RC_ASSERT(flip.becomes != Verdict::not_judged);
        }
        RC_ASSERT(finite(decision));
    }));
}

TEST_CASE("no NaN: at the posts, on the line, behind it, on the net's middle, everything on one spot") {
    const Parameters senior = parameters_for(Level::senior);
    const double places[] = {-3.0, -0.9144, -1e-12, 0.0, 1e-300, 0.9144, 6.0, 30.0};
    std::vector<IcePoint> points;
    for (const double x : places)
        for (const double y : places)
            points.push_back({x, y});
    const RuleBook& nhl = rule_book(RuleBookId::nhl);
    for (const IcePoint puck : points) {
        for (const IcePoint goalie : points) {
            for (const IcePoint receiver :
                 {points[0], points[9], points[27], points[36], puck, goalie, puck * 1.1}) {
                const std::vector<Threat> threats{{receiver, true, true}};
                for (const NextAction next : {NextAction::shot, NextAction::pass}) {
                    const Decision decision = decide({.stance = stance_from_mark(goalie),
                                                      .puck = puck,
                                                      .threats = threats,
                                                      .situation = Situation::rush,
                                                      .likelihood = Likelihood::either,
                                                      .next = next,
                                                      .set = std::nullopt},
                                                     nhl, senior);
                    CHECK(finite(decision));
                }
            }
            if (const auto seen = net_seen(stance_from_mark(goalie), puck, nhl, 0.85, 1.2)) {
                CHECK(std::isfinite(seen->share));
                for (const MouthPoint& corner : seen->shadow)
                    CHECK((std::isfinite(corner.x_m) && std::isfinite(corner.up_m)));
            }
            const Way way = way_between(goalie, puck);
            CHECK((std::isfinite(way.turn_rad) && std::isfinite(way.out_m)));
            if (const auto order = angle_before_depth(goalie, puck, puck * 1.1))
                CHECK((std::isfinite(order->turn_share) && std::isfinite(order->out_share)));
        }
    }
}
