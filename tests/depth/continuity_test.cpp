// A millimetre, a millisecond or a hundredth of a metre a second never decides: figures move a little, and a
// verdict that turns was a close call.
#include "depth/any_play.h"
#include "depth/firmness.h"
#include "depth/on_post.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace ropeline;
using namespace ropeline::any;

namespace {

/// The same play with one thing moved: a mark by a millimetre, a time by a millisecond, a speed by 0.01 m/s.
AnyMoment nudged(const AnyMoment& any) {
    AnyMoment near;
    near.rules = any.rules;
    near.level = any.level;
    near.parameters = any.parameters;
    near.threats = any.threats;
    near.moment = any.moment;
    const double direction = between(0.0, 6.283);
    const IcePoint by{0.001 * std::sin(direction), 0.001 * std::cos(direction)};
    switch (*rc::gen::inRange(0, 7)) {
    case 0:
        near.moment.puck = near.moment.puck + by;
        break;
    case 1:
        near.moment.stance = stance_from_mark(near.moment.stance.goalie + by);
        break;
    case 2:
        if (!near.threats.empty()) near.threats.back().at = near.threats.back().at + by;
        break;
    case 3:
        if (near.moment.before) near.moment.before->seconds += 0.001;
        break;
    case 4:
        near.parameters.see_s += 0.001;
        break;
    case 5:
        near.parameters.pass_speed_mps += 0.01;
        break;
    default:
        near.parameters.lateral_speed_mps += 0.01;
        break;
    }
    near.moment.threats = near.threats;
    return near;
}

/// Each end keeps in step, or the hump that parts the stretch there stands within a hundredth of the level, or two
/// lowest places are as good as each other.
bool follows(const AnyMoment& any, const Advice& one, const Advice& other) {
    if (std::abs(one.best_m - other.best_m) > 0.05) return true;
    const Play play = play_of(play_marks(any.moment), *any.rules, any.parameters);
    const double level = one.left_best + any.parameters.worth;
    const auto in_step_or_flat = [&](double a, double b) {
        if (std::abs(a - b) <= 0.15) return true;
        for (int i = 0; i <= 40; ++i) {
            const double there = net_left(play, play.shooter.line * (a + (b - a) * i / 40.0));
            if (there > level + 0.01) return false;
        }
        return true;
    };
    return in_step_or_flat(one.from_m, other.from_m) && in_step_or_flat(one.to_m, other.to_m);
}

/// What a millimetre can hide at most: from near the goal line the mouth is millimetres wide.
double most_hidden_by_nudge(const AnyMoment& any) {
    const auto mouth_m = [&](IcePoint from) {
        return from.y_m > 0.0 ? 2.0 * any.rules->post_half_gap.m * from.y_m / length(from) : 1.0;
    };
    double narrowest_m = mouth_m(any.moment.puck);
    for (const Threat& threat : any.threats)
        narrowest_m = std::min(narrowest_m, mouth_m(threat.at));
    return std::max(0.06, 0.0015 / narrowest_m);
}

} // namespace

TEST_CASE("net left and the advised stretch follow every input without a jump") {
    CHECK(ten_thousand([] {
        const AnyMoment any = any_moment(), near = nudged(any);
        const Decision one = decide(any.moment, *any.rules, any.parameters);
        const Decision other = decide(near.moment, *near.rules, near.parameters);
        RC_ASSERT(std::abs(one.left - other.left) <= most_hidden_by_nudge(any));
        if (!one.advice || !other.advice) return;
        RC_ASSERT(std::abs(one.advice->left_best - other.advice->left_best) <= 0.02);
        RC_ASSERT(follows(any, *one.advice, *other.advice));
    }));
}

TEST_CASE("a verdict that a nudge turns was no firm one") {
    CHECK(ten_thousand([] {
        const AnyMoment any = any_moment(), near = nudged(any);
        const Verdict one = verdict_of(any.moment, *any.rules, any.parameters);
        const Verdict other = verdict_of(near.moment, *near.rules, near.parameters);
        if (one == other) return;
        const auto firmness = [](const AnyMoment& asked) {
            return firmness_of(asked.moment, *asked.rules, asked.parameters, asked.level, "nudged")->share;
        };
        RC_ASSERT(firmness(any) < firm_from);
        RC_ASSERT(firmness(near) < firm_from);
    }));
}

TEST_CASE("the verdict alone is the decision's verdict") {
    CHECK(ten_thousand([] {
        const AnyMoment any = any_moment();
        RC_ASSERT(verdict_of(any.moment, *any.rules, any.parameters) ==
                  decide(any.moment, *any.rules, any.parameters).verdict);
    }));
}
