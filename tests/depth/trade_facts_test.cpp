// What goalie coaches teach, as far as the model must agree with it. Common practice, no source, unless one
// is named. At every level of play, with that level's parameters; NHL rink.
#include "depth/sequence.h"
#include "depth/verdict.h"
#include "rink/crease.h"

#include <doctest/doctest.h>

#include <vector>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);

template <class Check>
void at_every_level(Check check) {
    for (const Level level : {Level::youth, Level::junior, Level::senior, Level::elite}) {
        CAPTURE(key_of(level));
        check(parameters_for(level));
    }
}

double advised_m(IcePoint puck, const std::vector<Threat>& threats, Situation situation, Likelihood likely,
                 const Parameters& parameters) {
    return advise(puck, threats, situation, likely, nhl, parameters).depth_m;
}

double paint_m(IcePoint puck) {
    return crease_edge_m(nhl, puck_line(puck));
}

/// No further out than the conservative band.
bool conservative(double depth_m, IcePoint puck, const Parameters& parameters) {
    return depth_m <= paint_m(puck) - parameters.base_half_width_m + 1e-12;
}

} // namespace

TEST_CASE("one-on-one rush, no pass option: outside the paint (common practice, no source)") {
    at_every_level([](const Parameters& parameters) {
        for (const IcePoint carrier : {IcePoint{-3.5, 8.0}, IcePoint{0.0, 14.0}, IcePoint{5.0, 11.0}}) {
            CHECK(advised_m(carrier, {}, Situation::rush, Likelihood::either, parameters) > paint_m(carrier));
        }
    });
}

TEST_CASE("the same rush with a second attacker level: between the two (common practice, no source)") {
    at_every_level([](const Parameters& parameters) {
        const IcePoint carrier{-3.5, 8.0};
        const std::vector<Threat> second{{{3.5, 8.0}}};
        const double alone = advised_m(carrier, {}, Situation::rush, Likelihood::either, parameters);
        const double two = advised_m(carrier, second, Situation::rush, Likelihood::either, parameters);
        CHECK(two < alone);
        CHECK(two > parameters.cap_m.at(static_cast<std::size_t>(Situation::neutral_ice)));
        const double clearance = two - paint_m(carrier);
        CHECK(band_of(two, clearance, parameters) == Band::base);
    });
}

TEST_CASE("carrier turning away from the net near the dot, a threat on the far side: conservative (common "
          "practice, no source)") {
    at_every_level([](const Parameters& parameters) {
        const IcePoint near_the_dot{6.7, 6.1};
        const std::vector<Cue> cues{{CueKind::away_from_net, Likelihood::pass}};
        CHECK(likelihood_of(cues) == Likelihood::pass);
        const double depth =
            advised_m(near_the_dot, {{{-3.0, 5.0}}}, Situation::zone, likelihood_of(cues), parameters);
        CHECK(conservative(depth, near_the_dot, parameters));
    });
}

TEST_CASE(
    "outnumbered on a penalty kill, one at the side of the net: conservative even for a shooter in the lane "
    "(common practice, no source)") {
    at_every_level([](const Parameters& parameters) {
        const IcePoint shooter{3.0, 8.0};
        const std::vector<Threat> side_of_net{{{-1.6, 1.0}, true, true}};
        for (const Likelihood likely : {Likelihood::shot, Likelihood::either}) {
            CHECK(conservative(advised_m(shooter, side_of_net, Situation::penalty_kill, likely, parameters),
                               shooter, parameters));
        }
    });
}

TEST_CASE("second chance with bodies in front: conservative (common practice, no source)") {
    at_every_level([](const Parameters& parameters) {
        for (const IcePoint loose : {IcePoint{1.0, 3.0}, IcePoint{-2.0, 4.5}, IcePoint{0.0, 7.0}}) {
            CHECK(conservative(advised_m(loose, {}, Situation::rebound, Likelihood::shot, parameters), loose,
                               parameters));
        }
    });
}

TEST_CASE("puck at centre ice: home at the net (USA Hockey's positioning page: midway between defensive and "
          "conservative)") {
    at_every_level([](const Parameters& parameters) {
        const IcePoint centre{2.0, nhl.red_line_centre.m};
        const Advice advice = advise(centre, {}, Situation::rush, Likelihood::shot, nhl, parameters);
        CHECK(advice.limit == Limit::home);
        CHECK(conservative(advice.depth_m, centre, parameters));
        CHECK(advice.depth_m > parameters.defensive_depth_m);
    });
}

TEST_CASE(
    "a pass to the slot: turning deep and then coming out is judged better than coming out while turning "
    "(common practice, no source)") {
    const IcePoint carrier{7.0, 5.0}, receiver{-3.0, 6.0};
    const IcePoint deep = puck_line(carrier) * 0.9, out = puck_line(receiver) * 1.7;
    const IcePoint turned = puck_line(receiver) * 0.9, halfway = (deep + out) * 0.5;
    CHECK(angle_before_depth(deep, turned, out)->held);
    CHECK_FALSE(angle_before_depth(deep, deep + (puck_line(carrier) * 1.7 - deep), out)->held);

    // A shot while the goalie is on the way: the one who has the angle is square to it, the other is not.
    const Parameters senior = parameters_for(Level::senior);
    const auto verdict = [&](IcePoint goalie, bool set) {
        MarkedMoment moment;
        moment.stance = stance_from_mark(goalie);
        moment.puck = receiver;
        moment.situation = Situation::rebound; // conservative asked for: depth is not in question
        moment.next = NextAction::shot;
        moment.set = set;
        return decide(moment, nhl, senior).verdict;
    };
    CHECK(verdict(turned, true) == Verdict::right_read);
    CHECK(verdict(halfway, false) == Verdict::late);
}

TEST_CASE("the deeper goalie's way across is shorter, by the ratio of the depths (plane geometry)") {
    at_every_level([](const Parameters& parameters) {
        const IcePoint puck{6.7, 6.1};
        const Threat threat{{-4.0, 7.0}, true, true};
        const auto way = [&](double depth) {
            return distance(read_threat(threat, puck_line(puck) * depth, puck, nhl, parameters).new_spot,
                            puck_line(puck) * depth);
        };
        CHECK(way(0.8) / way(2.0) == doctest::Approx(0.8 / 2.0).epsilon(1e-12));
    });
}
