// What goalie coaches teach, as far as the model must agree with it. Common practice, no source, unless one
// is named. At every level of play, with that level's parameters; NHL rink.
#include "depth/sequence.h"
#include "depth/usual.h"
#include "depth/verdict.h"
#include "rink/crease.h"

#include <doctest/doctest.h>

#include <vector>

using namespace ropeline;
using namespace ropeline::usual;

namespace {

template <class Check>
void at_every_level(Check check) {
    for (const Level level : {Level::youth, Level::junior, Level::senior, Level::elite}) {
        CAPTURE(key_of(level));
        check(parameters_for(level));
    }
}

Advice advised(IcePoint puck, const std::vector<Threat>& threats, Situation situation, Likelihood likely,
               const Parameters& parameters) {
    const PlayMarks marks{puck, threats, situation, likely, Sight::clear};
    return advise(marks, play_of(marks, nhl, parameters), nhl, parameters);
}

double paint_m(IcePoint puck) {
    return crease_edge_m(nhl, puck_line(puck));
}

} // namespace

TEST_CASE("one-on-one rush, no pass option: outside the paint (common practice, no source)") {
    at_every_level([](const Parameters& parameters) {
        for (const IcePoint carrier : {IcePoint{-3.5, 8.0}, IcePoint{0.0, 14.0}, IcePoint{5.0, 11.0}}) {
            CHECK(advised(carrier, {}, Situation::rush, Likelihood::either, parameters).to_m >
                  paint_m(carrier));
        }
    });
}

TEST_CASE(
    "the same rush with a second attacker who shoots at once: less far out (common practice, no source)") {
    at_every_level([](const Parameters& parameters) {
        const IcePoint carrier{-3.5, 8.0};
        const std::vector<Threat> second{{{3.5, 8.0}, ReceiverKind::one_timer}};
        const Advice alone = advised(carrier, {}, Situation::rush, Likelihood::either, parameters);
        const Advice two = advised(carrier, second, Situation::rush, Likelihood::either, parameters);
        CHECK(two.to_m < alone.to_m - 0.3);
        CHECK(two.limit == Limit::pass);
    });
}

TEST_CASE(
    "carrier turning away from the net near the dot, a threat on the far side: inside the paint (common "
    "practice, no source)") {
    at_every_level([](const Parameters& parameters) {
        const IcePoint near_the_dot{6.7, 6.1};
        const std::vector<Cue> cues{{CueKind::away_from_net, Likelihood::pass}};
        CHECK(likelihood_of(cues) == Likelihood::pass);
        CHECK(advised(near_the_dot, {{{-3.0, 5.0}, ReceiverKind::one_timer}}, Situation::zone,
                      Likelihood::pass, parameters)
                  .to_m < paint_m(near_the_dot));
    });
}

TEST_CASE(
    "outnumbered on a penalty kill, a one-timer at the side of the net: inside the paint even for a likely "
    "shot (common practice, no source)") {
    at_every_level([](const Parameters& parameters) {
        const IcePoint shooter{3.0, 8.0};
        const std::vector<Threat> side_of_net{{{-1.6, 1.0}, ReceiverKind::one_timer}};
        for (const Likelihood likely : {Likelihood::shot, Likelihood::either}) {
            CHECK(advised(shooter, side_of_net, Situation::penalty_kill, likely, parameters).to_m <
                  paint_m(shooter));
        }
    });
}

TEST_CASE("second chance with bodies in front: inside the paint (common practice, no source)") {
    at_every_level([](const Parameters& parameters) {
        for (const IcePoint loose : {IcePoint{1.0, 3.0}, IcePoint{-2.0, 4.5}, IcePoint{0.0, 7.0}}) {
            CHECK(advised(loose, {}, Situation::rebound, Likelihood::shot, parameters).to_m <=
                  paint_m(loose) - parameters.base_half_width_m + 1e-9);
        }
    });
}

TEST_CASE("puck at centre ice: home at the net (USA Hockey's positioning page: midway between defensive and "
          "conservative)") {
    at_every_level([](const Parameters& parameters) {
        const IcePoint centre{2.0, nhl.red_line_centre.m};
        const Advice advice = advised(centre, {}, Situation::rush, Likelihood::shot, parameters);
        CHECK(advice.limit == Limit::home);
        CHECK(advice.to_m > parameters.defensive_depth_m);
        CHECK(advice.to_m < paint_m(centre) - parameters.base_half_width_m);
    });
}

TEST_CASE(
    "on the paint's edge with nobody else about, shot from the slot or the dot: right depth (USA Hockey's "
    "positioning page: base, the normal place before most shots)") {
    at_every_level([](const Parameters& parameters) {
        for (const IcePoint puck :
             {IcePoint{0.5, 6.0}, IcePoint{-1.0, 7.5}, IcePoint{6.7056, 6.096}, IcePoint{-6.7056, 6.096}}) {
            for (const Likelihood likely : {Likelihood::shot, Likelihood::either}) {
                MarkedMoment moment;
                moment.puck = puck;
                moment.stance = stance_from_mark(puck_line(puck) * paint_m(puck));
                moment.situation = Situation::zone;
                moment.likelihood = likely;
                CAPTURE(puck.x_m);
                CHECK(decide(moment, nhl, parameters).verdict == Verdict::right_depth);
            }
        }
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

    // A shot while the goalie is on the way: the one who has the angle leaves less of the net.
    const auto shot_at = [&](IcePoint goalie) {
        MarkedMoment moment;
        moment.stance = stance_from_mark(goalie);
        moment.puck = receiver;
        moment.situation = Situation::zone;
        return decide(moment, nhl, senior).shot_open;
    };
    CHECK(shot_at(turned) < shot_at(halfway));
}

TEST_CASE(
    "square to the carrier with enough restraint in depth to reach the pass (USA Hockey magazine, the 2-on-1 "
    "habit): further out is later") {
    at_every_level([](const Parameters& parameters) {
        const IcePoint puck{5.0, 9.0};
        const std::vector<Threat> mate{{{-4.0, 7.0}, ReceiverKind::one_timer}};
        const Play play =
            play_of({puck, mate, Situation::rush, Likelihood::either, Sight::clear}, nhl, parameters);
        double before = 0.0;
        for (double out_m = 1.0; out_m < 2.6; out_m += 0.1) {
            const double open = open_after_push(play.threats[0], puck_line(puck) * out_m, play.blocking);
            CHECK(open >= before - 0.01);
            before = open;
        }
    });
}
