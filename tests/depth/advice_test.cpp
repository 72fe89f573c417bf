// Cues, caps and limits of the advised depth.
#include "depth/advice.h"
#include "rink/crease.h"

#include <doctest/doctest.h>

#include <vector>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);
const Parameters senior = parameters_for(Level::senior);
constexpr IcePoint puck{4.0, 8.0};
const std::vector<Threat> far_one_timer{{{-4.0, 6.0}, true, false}};

Advice advised(const std::vector<Threat>& threats, std::optional<Situation> situation, Likelihood likely) {
    return advise(puck, threats, situation, likely, nhl, senior);
}

} // namespace

TEST_CASE("cues: blade, puck place and body decide alone, eyes and feet together") {
    using enum CueKind;
    const auto pass = Likelihood::pass, shot = Likelihood::shot;
    CHECK(likelihood_of({}) == Likelihood::either);
    for (const CueKind kind : {blade, puck_place, away_from_net})
        CHECK(likelihood_of(std::vector<Cue>{{kind, pass}}) == pass);
    for (const CueKind kind : {eyes, feet})
        CHECK(likelihood_of(std::vector<Cue>{{kind, pass}}) == Likelihood::either);
    CHECK(likelihood_of(std::vector<Cue>{{eyes, shot}, {feet, shot}}) == shot);
    CHECK(likelihood_of(std::vector<Cue>{{blade, shot}, {eyes, pass}}) == Likelihood::either);
    CHECK(likelihood_of(std::vector<Cue>{{blade, shot}, {puck_place, pass}}) == Likelihood::either);
    for (const CueFact& fact : cue_facts())
        CHECK(key_of(cue_kind_from_key(fact.key).value()) == fact.key);
    for (const Likelihood value : {shot, Likelihood::either, pass})
        CHECK(likelihood_from_key(key_of(value)) == value);
}

TEST_CASE("a clear shot and no threat: the cap itself") {
    for (const Situation situation : {Situation::rush, Situation::zone, Situation::penalty_kill,
                                      Situation::breakaway, Situation::neutral_ice}) {
        const Advice advice = advised({}, situation, Likelihood::shot);
        CHECK(advice.depth_m == senior.cap_m.at(static_cast<std::size_t>(situation)));
        CHECK(advice.limit == Limit::cap);
    }
    CHECK(advised({}, std::nullopt, Likelihood::either).depth_m ==
          advised({}, Situation::zone, Likelihood::either).depth_m);
}

TEST_CASE("likely shot: a pass that is not open is left out; else it counts") {
    CHECK(advised(far_one_timer, Situation::rush, Likelihood::shot).depth_m == 2.5);
    const Advice counted = advised(far_one_timer, Situation::rush, Likelihood::either);
    CHECK(counted.limit == Limit::pass);
    CHECK(counted.threat == 0);
    CHECK(counted.depth_m == reach_depth_m(far_one_timer[0], puck, senior));
    auto open = far_one_timer;
    open[0].open = true;
    CHECK(advised(open, Situation::rush, Likelihood::shot).depth_m == counted.depth_m);
}

TEST_CASE("likely pass: the cap is the conservative band's edge") {
    const double edge = crease_edge_m(nhl, puck_line(puck)) - senior.base_half_width_m;
    const Advice advice = advised({}, Situation::breakaway, Likelihood::pass);
    CHECK(advice.depth_m == edge);
    CHECK(advice.limit == Limit::conservative);
}

TEST_CASE("never under the defensive depth") {
    const Advice advice = advised({{{3.0, 7.0}, true, true}}, Situation::rush, Likelihood::either);
    CHECK(advice.depth_m == senior.defensive_depth_m);
    CHECK(advice.limit == Limit::defensive);
}
