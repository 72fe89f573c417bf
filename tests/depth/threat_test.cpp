// Passes: the worked table of spot-to-spot passes, and the best push against a search over a fine grid.
#include "depth/play.h"
#include "depth/reading.h"
#include "depth/usual.h"
#include "rink/units.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <tuple>
#include <vector>

using namespace ropeline;
using namespace ropeline::usual;

namespace {

/// Same to half a unit of the fourth significant digit, as the table is printed.
bool four_digits(double value, double printed) {
    return std::abs(value - printed) <= 0.5001 * std::pow(10.0, std::floor(std::log10(printed)) - 3.0);
}

ThreatReading read(const Threat& threat, IcePoint goalie, IcePoint puck,
                   const Parameters& parameters = senior, Situation situation = Situation::rush) {
    const std::vector<Threat> one{threat};
    const Play play = play_of({puck, one, situation, Likelihood::either, Sight::clear}, nhl, parameters);
    return read_threat(play.threats[0], goalie, play.blocking);
}

} // namespace

// Worked by hand: a pass of 44 ft from spot to spot (22 ft from the axis, 20 ft out: NHL Rule 1.9, from memory).
TEST_CASE("spot to spot: pass time, and the mean speed that gets across in it") {
    struct Row {
        double pass_mps, pass_s, at_once_3ft, after_3ft;
    };
    const IcePoint puck = feet(22, 20), across = feet(-22, 20);
    for (const Row& row :
         {Row{15, 0.8941, 1.514, 1.950}, Row{20, 0.6706, 2.018, 2.876}, Row{25, 0.5364, 2.523, 4.022}}) {
        CAPTURE(row.pass_mps);
        Parameters parameters = senior;
        parameters.pass_speed_mps = row.pass_mps;
        parameters.one_timer_s = 0.0;
        for (const auto& [see_s, speed] : {std::pair{0.0, row.at_once_3ft}, std::pair{0.20, row.after_3ft}}) {
            parameters.see_s = see_s;
            parameters.lateral_speed_mps = speed;
            const IcePoint goalie = puck_line(puck) * from_feet(3);
            const std::vector<Threat> one{{across, ReceiverKind::one_timer}};
            const Play play =
                play_of({puck, one, Situation::zone, Likelihood::either, Sight::clear}, nhl, parameters);
            CHECK(four_digits(play.threats[0].pass_s, row.pass_s));
            CHECK(std::abs(play.threats[0].push_m - distance(goalie, puck_line(across) * from_feet(3))) <
                  1e-3);
        }
    }
}

TEST_CASE("the best push is the best of a fine grid of pushes") {
    std::mt19937 random(7);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>{low, high}(random);
    };
    for (int play_number = 0; play_number < 300; ++play_number) {
        const IcePoint puck{between(-8, 8), between(2, 16)}, at{between(-8, 8), between(0.5, 14)};
        const IcePoint goalie = puck_line(puck) * between(0.2, 2.5);
        if (distance(at, goalie) < 1.0) continue; // the receiver's body is not in this test
        const std::vector<Threat> one{{at, play_number % 2 ? ReceiverKind::one_timer : ReceiverKind::stop}};
        const Play play =
            play_of({puck, one, Situation::rush, Likelihood::either, Sight::clear}, nhl, senior);
        const Receiver& receiver = play.threats[0];
        const IcePoint line = puck_line(at);
        double least = 2.0, least_on_the_way = 2.0;
        const double end = std::max(0.2, std::min(receiver.furthest_m, length(at) - senior.body_m));
        bool body = false;
        for (double t = 0.2; t <= end + 1e-9; t += (end - 0.2) / 400.0 + 1e-9) {
            const double way = distance(line * t, goalie), done = std::min(1.0, receiver.push_m / way);
            const IcePoint there = goalie + (line * t - goalie) * done;
            for (double s = 0.0; s <= 1.0; s += 0.0125) {
                const IcePoint on_the_way = goalie + (there - goalie) * s;
                body = body || distance(on_the_way, at) < senior.body_m + 0.05;
                least_on_the_way =
                    std::min(least_on_the_way, net_open(receiver.shooter, on_the_way, play.blocking));
            }
            least = std::min(least, net_open(receiver.shooter, there, play.blocking));
        }
        if (body) continue;
        CAPTURE(play_number);
        const double open = best_push(receiver, goalie, play.blocking).open;
        CHECK(open <= least + 0.003);
        CHECK(open >= std::min(least, least_on_the_way) - 0.003);
    }
}

// Seen where the search looked too coarsely; the least is that of a grid of 2 cm.
TEST_CASE("the best push is found off the line, on the way back to it, and between two looks") {
    struct Known {
        RuleBookId rules;
        Level level;
        Situation situation;
        Threat threat;
        IcePoint goalie, puck;
        double least;
    };
    const ReceiverKind stop = ReceiverKind::stop, one_timer = ReceiverKind::one_timer;
    for (const Known& known : {Known{RuleBookId::nhl,
                                     Level::senior,
                                     Situation::zone,
                                     {{3.29, 3.77}, stop},
                                     {1.914, 1.554},
                                     {9.3, 7.6},
                                     0.000},
                               Known{RuleBookId::iihf,
                                     Level::elite,
                                     Situation::penalty_kill,
                                     {{-0.20, 6.20}, stop},
                                     {-0.486, 2.543},
                                     {-2.3, 11.8},
                                     0.259},
                               Known{RuleBookId::nhl,
                                     Level::youth,
                                     Situation::penalty_kill,
                                     {{0.92, 4.10}, stop},
                                     {-0.965, 2.648},
                                     {-4.1, 11.3},
                                     0.368},
                               Known{RuleBookId::usa_hockey,
                                     Level::junior,
                                     Situation::zone,
                                     {{-0.37, 0.79}, one_timer},
                                     {-0.636, -0.069},
                                     {-12.0, 3.0},
                                     0.107}}) {
        CAPTURE(known.threat.at.x_m);
        const std::vector<Threat> one{known.threat};
        const Play play = play_of({known.puck, one, known.situation, Likelihood::either, Sight::clear},
                                  rule_book(known.rules), parameters_for(known.level));
        const Push push = best_push(play.threats[0], known.goalie, play.blocking);
        CHECK(std::abs(push.open - known.least) <= 0.004);
        CHECK(net_open(play.threats[0].shooter, push.arrives_at, play.blocking) ==
              doctest::Approx(push.open));
    }
}

TEST_CASE("further out than the furthest on the receiver's line is not late") {
    // On his line, 3 m out: a one-timer at once, no time to move.
    const IcePoint at{-4, 7};
    const ThreatReading out = read({at, ReceiverKind::one_timer}, puck_line(at) * 3.0, {-4.5, 7.5});
    CHECK(out.have_s < senior.see_s);
    CHECK(out.late_s < 1e-9);
    // A metre beside it, as late as a metre takes.
    const IcePoint u = puck_line(at), beside = u * 3.0 + IcePoint{u.y_m, -u.x_m};
    CHECK(read({at, ReceiverKind::one_timer}, beside, {-4.5, 7.5}).late_s ==
          doctest::Approx(1.0 / senior.lateral_speed_mps));
}

TEST_CASE("late and to spare: the way left over the lateral speed") {
    const IcePoint puck{5, 9};
    const ThreatReading far = read({{-4, 7}, ReceiverKind::one_timer}, puck_line(puck) * 2.3, puck);
    CHECK(far.late_s > 0.1);
    CHECK(far.spare_s == 0.0);
    // 0.512 s of pass, 0.10 s of release, 0.25 s to see it: 0.72 m at 2 m/s.
    CHECK(far.have_s == doctest::Approx(std::hypot(9, 2) / 18 + 0.10));
    CHECK(distance(far.arrives_at, puck_line(puck) * 2.3) == doctest::Approx(2.0 * (far.have_s - 0.25)));
    // Late onto the line at its nearest point: the way beside it over the speed.
    const IcePoint line = puck_line({-4, 7});
    CHECK(far.late_s ==
          doctest::Approx(std::abs(cross(line, puck_line(puck) * 2.3)) / 2.0 - (far.have_s - 0.25)));
    const ThreatReading near = read({{-4, 7}, ReceiverKind::stop}, puck_line(puck) * 0.8, puck);
    CHECK(near.late_s == 0.0);
    CHECK(near.spare_s ==
          doctest::Approx(near.have_s - 0.25 - std::abs(cross(line, puck_line(puck) * 0.8)) / 2.0));
}

TEST_CASE("a tip comes at shot speed without a release") {
    const ThreatReading tip = read({{0.5, 4}, ReceiverKind::tip}, {0.2, 1.5}, {2, 17});
    CHECK(tip.have_s == doctest::Approx(std::hypot(1.5, 13) / senior.shot_speed_mps));
    CHECK(tip.pass_s == tip.have_s);
}

TEST_CASE("a shot that leaves before the pass is seen: he has not moved") {
    const ThreatReading close = read({{2.0, 6.5}, ReceiverKind::one_timer}, {0.6, 1.2}, {3.0, 6.0});
    CHECK(close.arrives_at == IcePoint{0.6, 1.2});
}

TEST_CASE("nobody skates through the receiver") {
    // The man stands between the goalie, 2 m out, and the net: the push ends 0.4 m before him, beyond him as
    // seen from the net, and hides nothing.
    const ThreatReading blocked = read({{0.4, 0.8}, ReceiverKind::stop}, {0.9, 1.8}, {5, 10});
    CHECK(distance(blocked.arrives_at, {0.4, 0.8}) == doctest::Approx(0.4));
    CHECK(blocked.open_on_arrival == 1.0);
}

TEST_CASE("who is out beyond the man on the doorstep has him in the way, however near he is") {
    const IcePoint man{0.4, 0.8};
    for (const double beyond_m : {0.15, 0.30, 0.399, 0.401, 0.45}) {
        CAPTURE(beyond_m);
        const ThreatReading pass =
            read({man, ReceiverKind::stop}, puck_line(man) * (length(man) + beyond_m), {5, 9});
        CHECK(pass.open_on_arrival == 1.0);
    }
    // On the net's side of him he is free to go back.
    CHECK(read({man, ReceiverKind::stop}, puck_line(man) * 0.7, {5, 9}).open_on_arrival < 0.3);
}

TEST_CASE("a receiver below the goal line finds nothing open and keeps the goalie where he is") {
    const ThreatReading below = read({{1.5, -1.0}}, {0.3, 1.0}, {3.0, 6.0});
    CHECK(below.open_on_arrival == 0.0);
    CHECK(below.arrives_at == IcePoint{0.3, 1.0});
}

TEST_CASE("who stands within 3 m of the net is taken for a one-timer") {
    CHECK(usual_kind({1.0, 2.0}) == ReceiverKind::one_timer);
    CHECK(usual_kind({2.0, 2.5}) == ReceiverKind::stop);
}

TEST_CASE("keys of receivers and lanes go round") {
    for (const auto kind : {ReceiverKind::one_timer, ReceiverKind::stop, ReceiverKind::tip})
        CHECK(receiver_kind_from_key(key_of(kind)) == kind);
    for (const auto lane : {Lane::open, Lane::contested})
        CHECK(lane_from_key(key_of(lane)) == lane);
    CHECK_FALSE(receiver_kind_from_key("saucer").has_value());
    CHECK_FALSE(lane_from_key("").has_value());
}
