// What ends the advised stretch, and the weights behind it.
#include "depth/advice.h"
#include "depth/on_post.h"
#include "depth/reading.h"
#include "depth/usual.h"
#include "rink/crease.h"

#include <doctest/doctest.h>

#include <vector>

using namespace ropeline;
using namespace ropeline::usual;

namespace {

Advice advised(IcePoint puck, const std::vector<Threat>& threats, Situation situation,
               Likelihood likelihood) {
    const PlayMarks marks{puck, threats, situation, likelihood, Sight::clear};
    return advise(marks, play_of(marks, nhl, senior), nhl, senior);
}
Play play(const std::vector<Threat>& threats, Likelihood likelihood, Situation situation = Situation::zone) {
    return play_of({{5, 9}, threats, situation, likelihood, Sight::clear}, nhl, senior);
}

} // namespace

TEST_CASE("what ends the stretch is named") {
    CHECK(advised({5, 9}, {{{-4, 7}, ReceiverKind::one_timer}}, Situation::rush, Likelihood::either).limit ==
          Limit::pass);
    CHECK(advised({5, 9}, {{{-4, 7}, ReceiverKind::one_timer}}, Situation::rush, Likelihood::either).threat ==
          0);
    CHECK(advised({3, 10}, {}, Situation::rush, Likelihood::shot).limit == Limit::situation);
    CHECK(advised({0, 3}, {}, Situation::breakaway, Likelihood::shot).limit == Limit::gap);
    CHECK(advised({0, 3}, {}, Situation::breakaway, Likelihood::shot).to_m == doctest::Approx(1.5));
    CHECK(advised({6.7, 6.1}, {}, Situation::zone, Likelihood::pass).limit == Limit::inside_paint);
    CHECK(advised({2, 24}, {}, Situation::zone, Likelihood::either).limit == Limit::home);
}

TEST_CASE("chances: what the body says times the largest weight, shared out by weight") {
    const Threat open{{-4, 7}}, contested{{-4, 7}, ReceiverKind::stop, Lane::contested};
    const Threat below{{-4, -1}}, beyond{{-4, nhl.blue_line_centre.m + 1}};
    CHECK(play({open}, Likelihood::either).shot_chance == doctest::Approx(0.5));
    CHECK(play({open}, Likelihood::shot).shot_chance == doctest::Approx(0.8));
    CHECK(play({contested}, Likelihood::pass).shot_chance == doctest::Approx(1 - 0.8 * 0.3));
    const Play two = play({open, contested, below, beyond}, Likelihood::pass);
    CHECK(two.chances[0] == doctest::Approx(0.8 / 1.3));
    CHECK(two.chances[1] == doctest::Approx(0.8 * 0.3 / 1.3));
    CHECK(two.chances[2] == 0.0);
    CHECK(two.chances[3] == 0.0);
    CHECK(play({below, beyond}, Likelihood::pass).shot_chance == 1.0);
}

TEST_CASE("a loose puck has a man to either side, 1.5 m across the puck line, not lower than half a metre") {
    const Play loose =
        play_of({{0.8, 2.4}, {}, Situation::rebound, Likelihood::either, Sight::clear}, nhl, senior);
    REQUIRE(loose.threats.size() == 2);
    CHECK(loose.marked == 0);
    for (const Receiver& receiver : loose.threats) {
        CHECK(distance(receiver.shooter.at, {0.8, 2.4}) == doctest::Approx(1.5));
        CHECK(receiver.have_s == doctest::Approx(0.45));
    }
    const Play low =
        play_of({{2.0, 0.6}, {}, Situation::rebound, Likelihood::either, Sight::clear}, nhl, senior);
    CHECK(std::min(low.threats[0].shooter.at.y_m, low.threats[1].shooter.at.y_m) == 0.5);
}

TEST_CASE("a screened shot is seen later and finds more") {
    const auto open = [](Sight sight) {
        const Play asked = play_of({{4, 12}, {}, Situation::zone, Likelihood::shot, sight}, nhl, senior);
        return shot_open(asked, puck_line({4, 12}) * 1.5);
    };
    CHECK(open(Sight::clear) < open(Sight::partly));
    CHECK(open(Sight::partly) < open(Sight::screened));
}

TEST_CASE("the mouth as wide as the goalie is on the post: a straight line by hand") {
    // 2 * 0.9144 * y / |P| = 0.85 at sin = 0.46479: 27.70 degrees from the goal line.
    const double slope = 0.46479 / std::sqrt(1 - 0.46479 * 0.46479);
    CHECK(on_post_play({5, 5 * slope - 0.01}, nhl, senior));
    CHECK_FALSE(on_post_play({5, 5 * slope + 0.01}, nhl, senior));
    CHECK_FALSE(on_post_play({8, 3.0}, nhl, senior)); // high enough for depth whatever the angle
    CHECK(on_post_play({2, 0.0}, nhl, senior));
    CHECK(on_post_play({0, -1.0}, nhl, senior));
    CHECK(at_post({0.9, 0.3}, {4, 1}, nhl));
    CHECK_FALSE(at_post({-0.9, 0.3}, {4, 1}, nhl));
    CHECK(at_post({-0.9, 0.3}, {0.3, -1.5}, nhl)); // behind the net either post
}

TEST_CASE("the way home is even: half way between the lines, half way between the two") {
    const double half = (nhl.blue_line_centre.m + nhl.red_line_centre.m) / 2.0;
    const double zone = crease_edge_m(nhl, {0, 1}) + 0.15;
    CHECK(advised({0, half}, {}, Situation::zone, Likelihood::either).furthest_m ==
          doctest::Approx((zone + 0.75) / 2.0));
}

TEST_CASE("keys of limits go round") {
    for (const Limit limit :
         {Limit::pass, Limit::gap, Limit::situation, Limit::inside_paint, Limit::home, Limit::flat})
        CHECK(limit_from_key(key_of(limit)) == limit);
    CHECK_FALSE(limit_from_key("cap").has_value());
}
