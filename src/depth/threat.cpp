#include "depth/threat.h"

#include "depth/least.h"

#include <algorithm>
#include <array>

namespace ropeline {
namespace {

struct KindWord {
    std::string_view key, label;
};
constexpr std::array<KindWord, 3> kinds{
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

/// Places looked at on the receiver's line, in order; the stretch that the goalie reaches in time among them.
struct Looks {
    std::array<Least, 40> places{};
    std::size_t count = 0, best = 0;

    void add(Least look) {
        if (count > 0 && look.at - places[count - 1].at < 1e-6) return;
        places[count] = look;
        if (look.value < places[best].value) best = count;
        ++count;
    }
    /// On to `to`, which is in reach or not alike: looks a stride apart where the pushes there end.
    template <class Function>
    void go_on(Function open_at, const Receiver& receiver, IcePoint goalie, double from, double to) {
        if (to - from < 1e-6) return;
        const IcePoint line = receiver.shooter.line;
        const IcePoint first = line * from - goalie, last = line * to - goalie;
        const IcePoint a = first * (1.0 / std::max(length(first), 1e-9));
        const IcePoint b = last * (1.0 / std::max(length(last), 1e-9));
        constexpr double stride_m = 0.18;
        const double stops_apart = distance(a, b) * std::min(receiver.push_m, length(last));
        const int parts = static_cast<int>(std::clamp(std::ceil(stops_apart / stride_m), 1.0, 8.0));
        for (int i = 1; i < parts; ++i) {
            const IcePoint towards = a + (b - a) * (static_cast<double>(i) / parts);
            const double turn = cross(line, towards);
            if (std::abs(turn) < 1e-9) continue;
            const double at = cross(goalie, towards) / turn; // where the line is met that way
            if (at > from && at < to) add({at, open_at(at)});
        }
        add({to, open_at(to)});
    }
};

/// How far out on the receiver's line the goalie aims to leave him least.
Least best_aim(const Receiver& receiver, IcePoint goalie, bool past_him, const Blocking& blocking) {
    const IcePoint line = receiver.shooter.line;
    const auto open_at = [&](double out_m) {
        return net_open(receiver.shooter, after_push(receiver, goalie, line * out_m, past_him), blocking);
    };
    const double low = receiver.on_line.front().at, high = receiver.on_line.back().at;
    const double nearest = dot(goalie, line), across = cross(line, goalie);
    if (receiver.push_m <= 0.0) { // he cannot start
        const double aim = std::clamp(nearest, low, high);
        return {aim, open_at(aim)};
    }
    const double spare = receiver.push_m * receiver.push_m - across * across;
    const double reached = std::sqrt(std::max(spare, 0.0));
    const double from = std::clamp(nearest - reached, low, high),
                 to = std::clamp(nearest + reached, low, high);
    Looks looks;
    looks.add({low, open_at(low)});
    looks.go_on(open_at, receiver, goalie, low, from);
    // On the line itself what is open does not depend on where he comes from, unless the body is in his way.
    const bool free_way = spare > 0.0 && nearest <= receiver.shooter.far_m - receiver.body_m;
    if (free_way) {
        for (const Least& look : receiver.on_line)
            if (look.at > from && look.at < to) looks.add(look);
        looks.add({to, open_at(to)});
    } else {
        looks.go_on(open_at, receiver, goalie, from, to);
    }
    looks.go_on(open_at, receiver, goalie, to, high);
    const Least best = looks.places[looks.best];
    if (best.value <= 0.0 || (free_way && best.at > from + 1e-6 && best.at < to - 1e-6)) return best;
    return least_near(open_at, std::span{looks.places}.first(looks.count), looks.best, 0.008);
}

/// The best push with the receiver's body in the way or not. He need not use all his time: where stopping on
/// the way leaves less, he stops.
Push pushed(const Receiver& receiver, IcePoint goalie, bool past_him, const Blocking& blocking) {
    const Least aim = best_aim(receiver, goalie, past_him, blocking);
    const IcePoint towards = receiver.shooter.line * aim.at;
    Push push{towards, after_push(receiver, goalie, towards, past_him), aim.value};
    const IcePoint way = push.arrives_at - goalie;
    for (const double share : {0.0, 0.5}) {
        const IcePoint there = goalie + way * share;
        const double clear_m = distance(there, receiver.shooter.at) - receiver.body_m;
        if (clear_m <= 0.0) continue; // on the receiver nobody stops
        const double less = push.open - net_open(receiver.shooter, there, blocking);
        if (less <= 1e-9) continue;
        push.open -= less * std::min(clear_m / edge_m, 1.0);
        push.arrives_at = there;
    }
    return push;
}

} // namespace

ReceiverKind usual_kind(IcePoint at) {
    return length(at) < one_timer_within_m ? ReceiverKind::one_timer : ReceiverKind::stop;
}

void look_along_line(Receiver& receiver, const Blocking& blocking) {
    const double before_him = std::min(receiver.furthest_m, receiver.shooter.far_m - receiver.body_m);
    const double steps = static_cast<double>(receiver.on_line.size() - 1);
    for (std::size_t i = 0; i < receiver.on_line.size(); ++i) {
        const double out_m =
            nearest_aim_m + std::max(before_him - nearest_aim_m, 0.0) * static_cast<double>(i) / steps;
        receiver.on_line[i] = {out_m, net_open(receiver.shooter, receiver.shooter.line * out_m, blocking)};
    }
}

Push best_push(const Receiver& receiver, IcePoint goalie, const Blocking& blocking) {
    if (!(receiver.shooter.at.y_m > 0.0)) return {goalie, goalie, 0.0};
    // Nearer than the body he is past the man; over the next `edge_m` that fades.
    const double beyond_body = (distance(receiver.shooter.at, goalie) - receiver.body_m) / edge_m;
    const bool past_him = beyond_body < 0.5;
    Push push = pushed(receiver, goalie, past_him, blocking);
    if (beyond_body <= 0.0 || beyond_body >= 1.0) return push;
    const double other = pushed(receiver, goalie, !past_him, blocking).open;
    push.open += (other - push.open) * (past_him ? beyond_body : 1.0 - beyond_body);
    return push;
}

double open_after_push(const Receiver& receiver, IcePoint goalie, const Blocking& blocking) {
    return best_push(receiver, goalie, blocking).open;
}

ThreatReading read_threat(const Receiver& receiver, IcePoint goalie, const Blocking& blocking) {
    const Push push = best_push(receiver, goalie, blocking);
    // Onto his line at its nearest point: what comes after that is the way out along it.
    const double nearest = std::clamp(dot(goalie, receiver.shooter.line), receiver.on_line.front().at,
                                      receiver.on_line.back().at);
    const double spare_m = receiver.push_m - distance(receiver.shooter.line * nearest, goalie);
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
    const auto found = std::ranges::find(kinds, key, &KindWord::key);
    if (found == kinds.end()) return std::nullopt;
    return static_cast<ReceiverKind>(found - kinds.begin());
}
std::optional<Lane> lane_from_key(std::string_view key) {
    const auto found = std::ranges::find(lane_keys, key);
    if (found == lane_keys.end()) return std::nullopt;
    return static_cast<Lane>(found - lane_keys.begin());
}

} // namespace ropeline
