#include "depth/play.h"

#include "depth/reading.h"
#include "rink/crease.h"

#include <algorithm>

namespace ropeline {
namespace {

constexpr double loose_not_lower_m = 0.5;

double release_s(ReceiverKind kind, const Parameters& parameters) {
    switch (kind) {
    case ReceiverKind::one_timer:
        return parameters.one_timer_s;
    case ReceiverKind::stop:
        return parameters.catch_and_shoot_s;
    case ReceiverKind::tip:
        return 0.0;
    }
    return 0.0;
}

/// 1 for who can shoot; 0 at or behind the goal line and from the blue line on.
double can_shoot(IcePoint at, const RuleBook& rules) {
    return std::clamp(at.y_m / edge_m, 0.0, 1.0) *
           std::clamp((rules.blue_line_centre.m - at.y_m) / edge_m, 0.0, 1.0);
}

Receiver receiver_at(IcePoint at, double pass_s, double have_s, const Blocking& blocking,
                     const PlayMarks& marks, const RuleBook& rules, const Parameters& parameters) {
    Receiver receiver;
    receiver.shooter = shooter_at(at, parameters.see_s);
    receiver.pass_s = pass_s;
    receiver.have_s = have_s;
    receiver.furthest_m = furthest_on_line_m(at, marks.situation, rules, parameters);
    receiver.push_m = parameters.lateral_speed_mps * std::max(0.0, have_s - parameters.see_s);
    receiver.lateral_speed_mps = parameters.lateral_speed_mps;
    receiver.body_m = parameters.body_m;
    look_along_line(receiver, blocking);
    return receiver;
}

double see_shot_s(Sight sight, const Parameters& parameters) {
    switch (sight) {
    case Sight::clear:
        return parameters.see_s;
    case Sight::partly:
        return parameters.see_s + parameters.screen_s / 2.0;
    case Sight::screened:
        return parameters.see_s + parameters.screen_s;
    }
    return parameters.see_s;
}

/// The two men of a loose puck.
void add_loose(const PlayMarks& marks, const RuleBook& rules, const Parameters& parameters, Play& play) {
    const IcePoint line = puck_line(marks.puck);
    for (const double side : {-1.0, 1.0}) {
        IcePoint at = marks.puck + IcePoint{line.y_m, -line.x_m} * (side * parameters.loose_m);
        at.y_m = std::max(at.y_m, loose_not_lower_m);
        play.threats.push_back(
            receiver_at(at, 0.0, parameters.loose_s, play.blocking, marks, rules, parameters));
        play.chances.push_back(can_shoot(at, rules));
        play.counts = std::max(play.counts, play.chances.back());
    }
}

} // namespace

double furthest_on_line_m(IcePoint at, std::optional<Situation> situation, const RuleBook& rules,
                          const Parameters& parameters) {
    Situation played = situation.value_or(Situation::zone);
    if (played == Situation::neutral_ice) played = Situation::zone; // the way to the red line shortens it
    return std::max(0.0, crease_edge_m(rules, puck_line(at)) +
                             parameters.beyond_m.at(static_cast<std::size_t>(played)));
}

Play play_of(const PlayMarks& marks, const RuleBook& rules, const Parameters& parameters) {
    Play play;
    play.shooter = shooter_at(marks.puck, see_shot_s(marks.sight, parameters));
    play.blocking = blocking_of(rules, parameters);
    play.marked = marks.threats.size();
    play.threats.reserve(marks.threats.size() + 2);
    play.chances.reserve(marks.threats.size() + 2);
    for (const Threat& threat : marks.threats) {
        const bool tip = threat.kind == ReceiverKind::tip;
        const double way_s =
            distance(threat.at, marks.puck) / (tip ? parameters.shot_speed_mps : parameters.pass_speed_mps);
        play.threats.push_back(receiver_at(threat.at, way_s, way_s + release_s(threat.kind, parameters),
                                           play.blocking, marks, rules, parameters));
        const double can = can_shoot(threat.at, rules);
        play.counts = std::max(play.counts, can);
        play.chances.push_back(threat.lane == Lane::open ? can : can * parameters.contested);
    }
    if (marks.situation == Situation::rebound) add_loose(marks, rules, parameters, play);

    double largest = 0.0, sum = 0.0;
    for (const double weight : play.chances)
        largest = std::max(largest, weight), sum += weight;
    const double pass_chance =
        std::min(parameters.pass_chance.at(static_cast<std::size_t>(marks.likelihood)) * largest, 1.0);
    for (double& chance : play.chances)
        chance *= sum > 0.0 ? pass_chance / sum : 0.0;
    play.shot_chance = 1.0 - pass_chance;
    return play;
}

double shot_open(const Play& play, IcePoint goalie) {
    return net_open(play.shooter, goalie, play.blocking);
}

double net_left(const Play& play, IcePoint goalie) {
    double left = play.shot_chance * shot_open(play, goalie);
    for (std::size_t i = 0; i < play.threats.size(); ++i) {
        if (play.chances[i] > 0.0)
            left += play.chances[i] * open_after_push(play.threats[i], goalie, play.blocking);
    }
    return left;
}

} // namespace ropeline
