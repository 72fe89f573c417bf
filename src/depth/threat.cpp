#include "depth/threat.h"

#include "depth/least.h"

#include <algorithm>
#include <array>

namespace ropeline {
namespace {

struct Word {
    std::string_view key, label;
};
constexpr std::array<Word, 3> kinds{
    {{"one_timer", "one-timer"}, {"stop", "stops it, shoots"}, {"tip", "tips it"}}};
constexpr std::array<std::string_view, 2> lane_keys{"open", "contested"};

/// How far along this way the goalie gets before the receiver's body stops him.
double way_to_body_m(IcePoint goalie, IcePoint direction, double way_m, const Receiver& receiver) {
    const IcePoint to_receiver = receiver.shooter.at - goalie;
    const double along = dot(to_receiver, direction);
    const double beside = cross(direction, to_receiver);
    const double inside = receiver.body_m * receiver.body_m - beside * beside;
    if (along <= 0.0 || inside <= 0.0) return way_m;
    return std::max(along - std::sqrt(inside), 0.0);
}

/// In      `past_him`: the goalie stands at the receiver already, whose body is not in his way.
IcePoint after_push(const Receiver& receiver, IcePoint goalie, IcePoint towards, bool past_him) {
    const double way = distance(towards, goalie);
    if (!(way > 0.0)) return goalie;
    const IcePoint direction = (towards - goalie) * (1.0 / way);
    double done = std::min(way, receiver.push_m);
    if (!past_him) done = std::min(done, way_to_body_m(goalie, direction, way, receiver));
    return done < way ? goalie + direction * done : towards;
}

/// How far out on the receiver's line the goalie aims to leave him least.
Least best_aim(const Receiver& receiver, IcePoint goalie, bool past_him, const Blocking& blocking) {
    const IcePoint line = receiver.shooter.line;
    const auto open_at = [&](double out_m) {
        return net_open(receiver.shooter, after_push(receiver, goalie, line * out_m, past_him), blocking);
    };
    if (receiver.push_m <= 0.0) { // he cannot start: the nearest point of the line is where he would go
        const double aim = std::max(dot(goalie, line), nearest_aim_m);
        return {aim, open_at(aim)};
    }
    const double before_him = receiver.shooter.far_m - receiver.body_m;
    const double low = nearest_aim_m,
                 high = std::max(std::min(receiver.furthest_m, before_him), nearest_aim_m);
    // Even looks, and the ends of the stretch that he reaches, where the answer has its corners.
    const double nearest = dot(goalie, line), across = cross(line, goalie);
    const double reached = std::sqrt(std::max(receiver.push_m * receiver.push_m - across * across, 0.0));
    std::array<double, 7> places{low,
                                 low + (high - low) * 0.25,
                                 low + (high - low) * 0.50,
                                 low + (high - low) * 0.75,
                                 high,
                                 std::clamp(nearest - reached, low, high),
                                 std::clamp(nearest + reached, low, high)};
    std::ranges::sort(places);
    std::array<Least, 7> looks;
    std::size_t count = 0, best = 0;
    for (const double place : places) {
        if (count > 0 && place - looks[count - 1].at < 1e-6) continue;
        looks[count] = {place, open_at(place)};
        if (looks[count].value < looks[best].value) best = count;
        ++count;
    }
    if (looks[best].value <= 0.0) return looks[best];
    return least_near(open_at, std::span{looks}.first(count), best, 0.008);
}

} // namespace

ReceiverKind usual_kind(IcePoint at) {
    return length(at) < one_timer_within_m ? ReceiverKind::one_timer : ReceiverKind::stop;
}

Push best_push(const Receiver& receiver, IcePoint goalie, const Blocking& blocking) {
    if (!(receiver.shooter.at.y_m > 0.0)) return {goalie, goalie, 0.0};
    // Nearer than the body he is past the man; over the next `edge_m` that fades.
    const double beyond_body = (distance(receiver.shooter.at, goalie) - receiver.body_m) / edge_m;
    const bool past_him = beyond_body < 0.5;
    const Least aim = best_aim(receiver, goalie, past_him, blocking);
    const IcePoint towards = receiver.shooter.line * aim.at;
    Push push{towards, after_push(receiver, goalie, towards, past_him), aim.value};
    if (beyond_body <= 0.0 || beyond_body >= 1.0) return push;
    const double other = best_aim(receiver, goalie, !past_him, blocking).value;
    const double share = past_him ? beyond_body : 1.0 - beyond_body;
    push.open += (other - push.open) * share;
    return push;
}

double open_after_push(const Receiver& receiver, IcePoint goalie, const Blocking& blocking) {
    return best_push(receiver, goalie, blocking).open;
}

ThreatReading read_threat(const Receiver& receiver, IcePoint goalie, const Blocking& blocking) {
    const Push push = best_push(receiver, goalie, blocking);
    const double spare_m = receiver.push_m - distance(push.towards, goalie);
    ThreatReading reading;
    reading.pass_s = receiver.pass_s;
    reading.have_s = receiver.have_s;
    reading.late_s = std::max(0.0, -spare_m / receiver.lateral_speed_mps);
    reading.spare_s = std::max(0.0, spare_m / receiver.lateral_speed_mps);
    reading.goes_to = push.towards;
    reading.arrives_at = push.arrives_at;
    reading.open_on_arrival = push.open;
    return reading;
}

std::string_view key_of(ReceiverKind value) {
    return kinds.at(static_cast<std::size_t>(value)).key;
}
std::string_view key_of(Lane value) {
    return lane_keys.at(static_cast<std::size_t>(value));
}
std::string_view label_of(ReceiverKind value) {
    return kinds.at(static_cast<std::size_t>(value)).label;
}
std::optional<ReceiverKind> receiver_kind_from_key(std::string_view key) {
    const auto found = std::ranges::find(kinds, key, &Word::key);
    if (found == kinds.end()) return std::nullopt;
    return static_cast<ReceiverKind>(found - kinds.begin());
}
std::optional<Lane> lane_from_key(std::string_view key) {
    const auto found = std::ranges::find(lane_keys, key);
    if (found == lane_keys.end()) return std::nullopt;
    return static_cast<Lane>(found - lane_keys.begin());
}

} // namespace ropeline
