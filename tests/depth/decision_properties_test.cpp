// What must hold anywhere in the rink, and no number that is not one: ten thousand plays each.
#include "depth/any_play.h"
#include "depth/net_seen.h"
#include "depth/on_post.h"
#include "depth/sequence.h"
#include "depth/usual.h"
#include "rink/crease.h"
#include "rink/units.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace ropeline;
using namespace ropeline::usual;
using namespace ropeline::any;

namespace {

bool finite(const Decision& decision) {
    bool all = std::isfinite(decision.left) && std::isfinite(decision.shot_open) &&
               std::isfinite(decision.gave_away.value_or(0.0)) &&
               std::isfinite(decision.opened.value_or(Opened{}).length_m) && std::isfinite(decision.cost) &&
               std::isfinite(decision.pass_cost);
    if (const auto& advice = decision.advice) {
        for (const double number :
             {advice->from_m, advice->to_m, advice->best_m, advice->left_best, advice->furthest_m})
            all = all && std::isfinite(number);
    }
    for (const ThreatReading& threat : decision.threats) {
        for (const double number : {threat.pass_s, threat.have_s, threat.late_s, threat.spare_s,
                                    threat.goes_to.x_m, threat.goes_to.y_m, threat.arrives_at.x_m,
                                    threat.arrives_at.y_m, threat.open_on_arrival, threat.chance})
            all = all && std::isfinite(number);
    }
    return all;
}

bool share(double value) {
    return value >= -1e-9 && value <= 1.0 + 1e-9;
}

} // namespace

TEST_CASE("the advice stays before the puck, off the goal line's far side, inside its bounds") {
    CHECK(ten_thousand([] {
        const AnyMoment any = any_moment();
        const Decision decision = decide(any.moment, *any.rules, any.parameters);
        RC_ASSERT(finite(decision));
        RC_ASSERT(share(decision.left) && share(decision.shot_open));
        RC_ASSERT(decision.on_post == !decision.advice.has_value());
        if (!decision.advice) {
            RC_ASSERT(decision.verdict == Verdict::right_depth || decision.verdict == Verdict::off_the_post);
            return;
        }
        const Advice& advice = *decision.advice;
        RC_ASSERT(advice.from_m >= 0.0 && advice.from_m <= advice.to_m + 1e-12);
        RC_ASSERT(advice.to_m <= advice.furthest_m + 1e-12);
        RC_ASSERT(advice.best_m >= 0.0 && advice.best_m <= advice.furthest_m + 1e-12);
        const double gap = length(any.moment.puck) - any.parameters.gap_m;
        RC_ASSERT(advice.to_m <= std::max(0.0, gap) + 1e-9);
        RC_ASSERT(share(advice.left_best));
        RC_ASSERT((advice.limit == Limit::pass) || !advice.threat.has_value());
        if (advice.threat) RC_ASSERT(*advice.threat < any.moment.threats.size());
    }));
}

TEST_CASE("the advised stretch is where the play is within what is worth acting on of its least") {
    CHECK(ten_thousand([] {
        const AnyMoment any = any_moment();
        if (on_post_play(any.moment.puck, *any.rules, any.parameters)) return;
        if (any.moment.puck.y_m > any.rules->red_line_centre.m - 1.0) return; // grows into home there
        const PlayMarks marks = play_marks(any.moment);
        const Play play = play_of(marks, *any.rules, any.parameters);
        const Advice advice = advise(marks, play, *any.rules, any.parameters);
        const double level = advice.left_best + any.parameters.worth;
        for (const double place : {advice.from_m, advice.best_m, advice.to_m})
            RC_ASSERT(net_left(play, play.shooter.line * place) <= level + 0.005);
        const double anywhere_m = between(0.0, advice.furthest_m);
        RC_ASSERT(net_left(play, play.shooter.line * anywhere_m) >= advice.left_best - 0.01);
    }));
}

TEST_CASE(
    "at a fixed spot net left never grows with lateral speed, an earlier look, a slower pass or release") {
    CHECK(ten_thousand([] {
        const AnyMoment any = any_moment();
        const PlayMarks marks = play_marks(any.moment);
        const Play as_marked = play_of(marks, *any.rules, any.parameters);
        // A spot that can be asked for: as far out as the play allows, or a skate beside the line.
        const IcePoint line = as_marked.shooter.line;
        const double furthest_m = furthest_out(marks, as_marked, *any.rules, any.parameters).out_m;
        const IcePoint goalie =
            line * between(0.0, furthest_m) + IcePoint{line.y_m, -line.x_m} * between(-0.3, 0.3);
        for (const Threat& threat : any.threats) // nobody stands where the receiver does
            if (distance(threat.at, goalie) < 2.0 * any.parameters.body_m) return;
        const auto left = [&](const Parameters& parameters) {
            return net_left(play_of(marks, *any.rules, parameters), goalie);
        };
        const double as_it_is = left(any.parameters);
        const auto eased = [&](auto change) {
            Parameters easier = any.parameters;
            change(easier);
            return left(easier) <= as_it_is + 0.02;
        };
        const double by = between(0.0, 1.0);
        RC_ASSERT(eased([&](Parameters& p) { p.lateral_speed_mps *= 1.0 + by; }));
        RC_ASSERT(eased([&](Parameters& p) { p.see_s *= 1.0 - by; }));
        RC_ASSERT(eased([&](Parameters& p) { p.pass_speed_mps /= 1.0 + by; }));
        RC_ASSERT(eased([&](Parameters& p) { p.one_timer_s += by, p.catch_and_shoot_s += by; }));
    }));
}

TEST_CASE("a pass that nobody could reach makes no spot right that leaves more than another") {
    CHECK(ten_thousand([] {
        const AnyMoment any = any_moment();
        Parameters rooted = any.parameters; // every pass is out of reach
        rooted.lateral_speed_mps = 0.01;
        const Decision decision = decide(any.moment, *any.rules, rooted);
        if (!decision.advice || any.moment.before || decision.verdict != Verdict::right_depth) return;
        if (any.moment.puck.y_m > any.rules->red_line_centre.m - 1.0) return;
        // Half a skate beyond either end and half a skate beside the line are forgiven; nothing else is.
        const IcePoint line = puck_line(any.moment.puck);
        const double out_m =
            std::clamp(decision.reading.depth_m, decision.advice->from_m, decision.advice->to_m);
        const Play play = play_of(play_marks(any.moment), *any.rules, rooted);
        RC_ASSERT(net_left(play, line * out_m) <= decision.advice->left_best + rooted.worth + 0.02);
    }));
}

TEST_CASE(
    "who is blamed for his depth has given something away, or stood where the situation allows nobody") {
    CHECK(ten_thousand([] {
        const AnyMoment any = any_moment();
        const Decision decision = decide(any.moment, *any.rules, any.parameters);
        if (!decision.advice) return;
        const bool dear = *decision.gave_away > any.parameters.worth && decision.cost > any.parameters.worth;
        const Verdict verdict = decision.verdict;
        if (verdict == Verdict::over_challenged || verdict == Verdict::sat_back) RC_ASSERT(dear);
        if (verdict != Verdict::too_far_out || dear) return;
        const PlayMarks marks = play_marks(any.moment);
        const Play play = play_of(marks, *any.rules, any.parameters);
        RC_ASSERT(decision.reading.depth_m > furthest_out(marks, play, *any.rules, any.parameters).allowed_m);
    }));
}

TEST_CASE("feet and back again, the same answer") {
    CHECK(ten_thousand([] {
        const AnyMoment any = any_moment();
        const AnyMoment turned = in_feet_and_back(any);
        const Decision one = decide(any.moment, *any.rules, any.parameters);
        const Decision other = decide(turned.moment, *turned.rules, turned.parameters);
        RC_ASSERT(std::abs(one.left - other.left) <= 1e-6);
        RC_ASSERT(one.advice.has_value() == other.advice.has_value());
        if (!one.advice) return;
        RC_ASSERT(std::abs(one.advice->left_best - other.advice->left_best) <= 1e-3);
    }));
}

TEST_CASE(
    "on the paint's edge with nobody about, a shot in zone play from the slot to the dots: right depth") {
    CHECK(ten_thousand([] {
        const RuleBook& rules = rule_book(RuleBookId::nhl);
        const Parameters parameters = parameters_for(static_cast<Level>(*rc::gen::inRange(0, 4)));
        MarkedMoment moment;
        moment.puck = {between(-6.7056, 6.7056), between(6.0, 8.5)};
        const IcePoint line = puck_line(moment.puck);
        moment.stance = stance_from_mark(line * crease_edge_m(rules, line));
        moment.situation = Situation::zone;
        moment.likelihood = *rc::gen::arbitrary<bool>() ? Likelihood::shot : Likelihood::either;
        RC_ASSERT(decide(moment, rules, parameters).verdict == Verdict::right_depth);
    }));
}

TEST_CASE("mirror images give mirror figures") {
    CHECK(ten_thousand([] {
        const AnyMoment any = any_moment();
        const AnyMoment mirror = mirrored(any);
        const Decision one = decide(any.moment, *any.rules, any.parameters);
        const Decision other = decide(mirror.moment, *any.rules, any.parameters);
        const auto same = [](double a, double b) { return std::abs(a - b) <= 1e-6 * (1.0 + std::abs(a)); };
        RC_ASSERT(one.verdict == other.verdict);
        RC_ASSERT(same(one.left, other.left));
        RC_ASSERT(one.advice.has_value() == other.advice.has_value());
        for (std::size_t i = 0; i < one.threats.size(); ++i)
            RC_ASSERT(same(one.threats[i].open_on_arrival, other.threats[i].open_on_arrival));
        if (!one.advice) return;
        RC_ASSERT(std::abs(one.advice->from_m - other.advice->from_m) < 0.005); // the search's own grain
        RC_ASSERT(std::abs(one.advice->to_m - other.advice->to_m) < 0.005);
        RC_ASSERT(one.advice->limit == other.advice->limit);
    }));
}

TEST_CASE("no NaN: at the posts, on the line, behind it, on the net's middle, everything on one spot") {
    const double places[] = {-3.0, -0.9144, -1e-12, 0.0, 1e-300, 0.9144, 6.0, 30.0};
    std::vector<IcePoint> points;
    for (const double x : places)
        for (const double y : places)
            points.push_back({x, y});
    for (const IcePoint puck : points) {
        for (const IcePoint goalie : points) {
            for (const IcePoint receiver :
                 {points[0], points[9], points[27], points[36], puck, goalie, puck * 1.1}) {
                for (const ReceiverKind kind : {ReceiverKind::one_timer, ReceiverKind::tip}) {
                    const std::vector<Threat> threats{{receiver, kind, Lane::open, true}};
                    MarkedMoment moment;
                    moment.stance = stance_from_mark(goalie);
                    moment.puck = puck;
                    moment.threats = threats;
                    moment.situation = kind == ReceiverKind::tip ? Situation::rebound : Situation::rush;
                    moment.next = NextAction::pass;
                    moment.before = Before{receiver, 0.4};
                    CHECK(finite(decide(moment, nhl, senior)));
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
