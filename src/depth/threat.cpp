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

/// Ends of a push: past the receiver's body, or at it. `held` is how much of it counts as the second: all of it
/// but where only their shoulders meet.
struct Ends {
    IcePoint past, at_body;
    double held = 0.0;

    IcePoint likelier() const { return held < 0.5 ? past : at_body; }
};

/// In      `share` of the way that he could go.
Ends ends_of_push(const Receiver& receiver, IcePoint goalie, IcePoint towards, double share) {
    const double whole = distance(towards, goalie);
    if (!(whole > 0.0)) return {goalie, goalie, 0.0};
    const IcePoint direction = (towards - goalie) * (1.0 / whole);
    const double way = std::min(whole, receiver.push_m);
    Ends ends{goalie + direction * (way * share), goalie, 0.0};
    const IcePoint to_receiver = receiver.shooter.at - goalie;
    const double along = dot(to_receiver, direction), beside = std::abs(cross(direction, to_receiver));
    const double apart = length(to_receiver), body = std::min(receiver.body_m, apart);
    if (along <= 0.0 || beside >= body) return ends;
    const double meets = std::min(way, along - std::sqrt(std::max(body * body - beside * beside, 0.0)));
    const double shoulder = edge_m * body / receiver.body_m;
    ends.at_body = goalie + direction * (meets * share);
    ends.held = std::min((body - beside) / shoulder, 1.0) * std::min(apart / edge_m, 1.0);
    return ends;
}

IcePoint direction_to(IcePoint at, IcePoint from) {
    const IcePoint way = at - from;
    return way * (1.0 / std::max(length(way), 1e-9));
}

/// The places a push can end at are a fan before the goalie. Nearer to the shooter hides more, so the least net
/// open lies on the sides of the fan that the shooter sees: the line as far as it is reached, from there where
/// full pushes end (by direction, shares 0 to 1), and back along the way to the furthest aim (1 to 2).
struct Fan {
    Fan(const Receiver& to, IcePoint from) : receiver(to), goalie(from) {}

    const Receiver& receiver;
    IcePoint goalie;
    double from_m = 0.0, to_m = 0.0; ///< the stretch of the line that is reached
    bool held = false;               ///< the receiver's body is in the way of some push
    bool meets_line = false;
    double first_m = 0.0, last_m = 0.0; ///< aims of the full pushes
    IcePoint first, last;               ///< their directions
    IcePoint corner;                    ///< where the push towards the furthest aim ends

    bool full_pushes() const { return last_m - first_m > 1e-6; }

    IcePoint aim(double share) const {
        const IcePoint line = receiver.shooter.line, way = first + (last - first) * std::min(share, 1.0);
        const double turn = cross(line, way);
        const double even_m = first_m + (last_m - first_m) * share;
        const double out_m = std::abs(turn) < 1e-9 ? even_m : cross(goalie, way) / turn;
        return line * std::clamp(out_m, first_m, last_m);
    }
    Ends ends(double share) const {
        return ends_of_push(receiver, goalie, aim(share), std::min(1.0, 2.0 - share));
    }
    IcePoint place(double share) const {
        if (held) return ends(share).likelier();
        if (share >= 1.0) return corner + (goalie - corner) * (share - 1.0);
        const IcePoint way = first + (last - first) * share;
        return goalie + way * (receiver.push_m / length(way));
    }

    /// Shares at which a ray from the shooter meets the two outer sides; outside of theirs where it does not.
    double on_way_back(IcePoint ray) const {
        const IcePoint way = goalie - corner;
        const double turn = cross(way, ray), from = -cross(corner - receiver.shooter.at, ray);
        return from * turn > 0.0 ? 1.0 + from / turn : 0.0;
    }
    double on_full_pushes(IcePoint ray) const {
        const IcePoint from_goalie = receiver.shooter.at - goalie;
        const double half = dot(from_goalie, ray);
        const double inside = half * half - dot(from_goalie, from_goalie) + receiver.push_m * receiver.push_m;
        if (inside < 0.0) return 0.0;
        const IcePoint end = from_goalie - ray * (half + std::sqrt(inside));
        const double turn = cross(last - first, end);
        return std::abs(turn) < 1e-12 ? 0.0 : -cross(first, end) / turn;
    }
};

Fan fan_of(const Receiver& receiver, IcePoint goalie) {
    const IcePoint line = receiver.shooter.line;
    const double low = receiver.on_line.front().at, high = receiver.on_line.back().at;
    const double nearest = dot(goalie, line), across = cross(line, goalie);
    const double spare = receiver.push_m * receiver.push_m - across * across;
    const double reached = std::sqrt(std::max(spare, 0.0));
    Fan fan(receiver, goalie);
    fan.from_m = std::clamp(nearest - reached, low, high);
    fan.to_m = std::clamp(nearest + reached, low, high);
    const double before_body = receiver.shooter.far_m - receiver.body_m;
    fan.held = (nearest > before_body || before_body < low) &&
               distance(goalie, receiver.shooter.at) < receiver.push_m + receiver.body_m;
    fan.meets_line = !fan.held && spare > 0.0 && fan.to_m > fan.from_m;
    fan.first_m = fan.meets_line ? fan.to_m : low;
    fan.last_m = high;
    fan.corner = fan.meets_line && !fan.full_pushes() ? line * high
                                                      : ends_of_push(receiver, goalie, line * high, 1.0).past;
    if (!fan.full_pushes()) return fan;
    fan.first = direction_to(line * fan.first_m, goalie);
    fan.last = direction_to(line * fan.last_m, goalie);
    return fan;
}

/// Shares looked at, in order.
struct Looks {
    std::array<double, 32> shares;
    std::size_t count = 0;
    void add(double share) {
        std::size_t at = count++;
        for (; at > 0 && shares[at - 1] > share; --at)
            shares[at] = shares[at - 1];
        shares[at] = share;
    }
};

Looks looks_at(const Fan& fan, const Blocking& blocking) {
    const Shooter& shooter = fan.receiver.shooter;
    Looks looks;
    // Where reach makes up for distance, further away need not be worse.
    const bool reaches = blocking.reach_speed_mps * shooter.see_s > blocking.half_width_m - 0.1;
    bool way_back = fan.held || reaches || dot(fan.goalie - fan.corner, shooter.at - fan.corner) > 0.0;
    for (const IcePoint ray : fan.receiver.least_rays) {
        const double back = fan.on_way_back(ray);
        if (back > 1.0 && back < 2.0) looks.add(back), way_back = true;
        if (!fan.full_pushes()) continue;
        const double full = fan.on_full_pushes(ray);
        if (full > 0.0 && full < 1.0) looks.add(full);
    }
    if (way_back) looks.add(1.25), looks.add(1.5), looks.add(2.0);
    if (fan.full_pushes()) {
        const int parts = fan.held ? 20 : fan.meets_line ? 2 : 4;
        for (int i = 0; i < parts; ++i)
            looks.add(static_cast<double>(i) / parts);
    }
    if (looks.count > 0 || !fan.meets_line) looks.add(1.0); // else it is the line's end, looked at already
    return looks;
}

/// On the line itself what is open does not depend on where he comes from.
Push best_on_line(const Fan& fan, const Blocking& blocking) {
    const Shooter& shooter = fan.receiver.shooter;
    Least best{fan.to_m, net_open(shooter, shooter.line * fan.to_m, blocking)};
    for (const Least& look : fan.receiver.on_line)
        if (look.value < best.value && look.at >= fan.from_m && look.at < fan.to_m) best = look;
    return {shooter.line * best.at, shooter.line * best.at, best.value};
}

/// The least of those looks that lie between two shares, and around it.
template <class Function>
Least least_of(const Looks& looks, double from, double to, Function open_at) {
    std::array<Least, 32> looked;
    std::size_t count = 0, lowest = 0;
    for (std::size_t i = 0; i < looks.count; ++i) {
        const double share = looks.shares[i];
        if (share < from || share > to) continue;
        looked[count] = {share, open_at(share)};
        if (looked[count].value < looked[lowest].value) lowest = count;
        ++count;
    }
    if (count == 0) return {0.0, 2.0};
    if (looked[lowest].value <= 0.0) return looked[lowest];
    return least_near(open_at, std::span{looked}.first(count), lowest, 0.01);
}

/// The push of least open at those looks; `best` where that is no less.
template <class Function>
Push best_of(const Fan& fan, const Looks& looks, double from, double to, Function open_at, Push best) {
    const Least least = least_of(looks, from, to, open_at);
    if (least.value >= best.open) return best;
    const IcePoint towards = least.at < 1.0 ? fan.aim(least.at) : fan.receiver.shooter.line * fan.last_m;
    return {towards, fan.place(least.at), least.value};
}

/// Shares of a way to stop at: abreast of the receiver, where it leaves circles about him, from the edge of his
/// body inwards, and between.
Looks stops_on(const Fan& fan, IcePoint way) {
    const double whole = std::max(length(way), 1e-9);
    const IcePoint to_receiver = fan.receiver.shooter.at - fan.goalie;
    const double along = dot(to_receiver, way) / whole, beside = cross(way, to_receiver) / whole;
    const double abreast = std::clamp(along / whole, 0.0, 1.0);
    Looks stops;
    for (const double share : {0.0, abreast, (abreast + 1.0) / 2.0, 1.0})
        stops.add(share);
    for (const double inwards_m : {0.0, 0.5 * edge_m, edge_m}) {
        const double radius = std::max(fan.receiver.body_m - inwards_m, 0.0);
        const double inside = radius * radius - beside * beside;
        if (inside > 0.0) stops.add(std::clamp((along + std::sqrt(inside)) / whole, 0.0, 1.0));
    }
    return stops;
}

/// With a receiver's body in the way: to the end of every way, else some of it, which counts clear of the man alone,
/// less and less over the outer edge of his body.
Push best_past_body(const Fan& fan, const Looks& looks, const Blocking& blocking) {
    const Shooter& shooter = fan.receiver.shooter;
    double full = 1.0;
    const auto open_at = [&](IcePoint towards, double share) {
        const auto open = [&](IcePoint at) {
            const double there = net_open(shooter, at, blocking);
            if (share >= 1.0) return there;
            const double inside_m = fan.receiver.body_m - distance(at, shooter.at);
            return there + std::max(full - there, 0.0) * std::clamp(inside_m / edge_m, 0.0, 1.0);
        };
        const Ends ends = ends_of_push(fan.receiver, fan.goalie, towards, share);
        const double past = ends.held < 1.0 ? open(ends.past) * (1.0 - ends.held) : 0.0;
        return past + (ends.held > 0.0 ? open(ends.at_body) * ends.held : 0.0);
    };
    const auto stop_on = [&](IcePoint towards) {
        const IcePoint way = ends_of_push(fan.receiver, fan.goalie, towards, 1.0).past - fan.goalie;
        return least_of(stops_on(fan, way), 0.0, 1.0, [&](double share) { return open_at(towards, share); });
    };
    const auto open_on_way_back = [&](double share) {
        return open_at(fan.aim(1.0), std::min(1.0, 2.0 - share));
    };
    Push best = best_of(fan, looks, 0.0, 1.0, [&](double share) { return open_at(fan.aim(share), 1.0); },
                        {fan.goalie, fan.goalie, 2.0});
    full = best.open;
    if (full <= 0.0) return best;
    best = best_of(fan, looks, 1.0, 2.0, open_on_way_back, best);
    const Push stopped = best_of(
        fan, looks, 0.0, 1.0, [&](double share) { return stop_on(fan.aim(share)).value; }, best);
    if (stopped.open >= best.open) return best;
    const double share = stop_on(stopped.towards).at;
    return {stopped.towards, ends_of_push(fan.receiver, fan.goalie, stopped.towards, share).likelier(),
            stopped.open};
}

/// Directions from a shooter at which he finds least: the goalie on the bisector of the posts' angle, or turned
/// from it until an end of his shadow is at a post.
std::array<IcePoint, 3> least_rays_of(const Receiver& receiver, const Blocking& blocking) {
    const Shooter& shooter = receiver.shooter;
    const IcePoint left = direction_to({-blocking.half_gap_m, 0.0}, shooter.at);
    const IcePoint right = direction_to({blocking.half_gap_m, 0.0}, shooter.at);
    const IcePoint middle = left + right, across = right - left; // square to each other
    const double mouth = length(across) / std::max(length(middle), 1e-9);
    const double away = std::max(shooter.far_m - receiver.on_line.back().at, receiver.body_m);
    const double hides = (blocking.half_width_m + reach_m(away, shooter.see_s, blocking)) / away;
    const double turned = (mouth - hides) / (1.0 + mouth * hides) / std::max(mouth, 1e-9);
    std::array<IcePoint, 3> rays;
    for (const int side : {-1, 0, 1})
        rays[static_cast<std::size_t>(side + 1)] = direction_to(middle + across * (side * turned), {});
    return rays;
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
    receiver.least_rays = least_rays_of(receiver, blocking);
}

Push best_push(const Receiver& receiver, IcePoint goalie, const Blocking& blocking) {
    const Shooter& shooter = receiver.shooter;
    if (!(shooter.at.y_m > 0.0)) return {goalie, goalie, 0.0};
    if (!(receiver.push_m > 0.0))
        return {shooter.line * receiver.on_line.back().at, goalie, net_open(shooter, goalie, blocking)};
    const Fan fan = fan_of(receiver, goalie);
    Push best{goalie, goalie, 2.0};
    if (fan.meets_line) best = best_on_line(fan, blocking);
    if (best.open <= 0.0) return best;
    const Looks looks = looks_at(fan, blocking);
    const auto open_at = [&](double share) { return net_open(shooter, fan.place(share), blocking); };
    if (!fan.held) return best_of(fan, looks, 0.0, 2.0, open_at, best);
    return best_past_body(fan, looks, blocking);
}

double open_after_push(const Receiver& receiver, IcePoint goalie, const Blocking& blocking) {
    return best_push(receiver, goalie, blocking).open;
}

ThreatReading read_threat(const Receiver& receiver, IcePoint goalie, const Blocking& blocking) {
    const Push push = best_push(receiver, goalie, blocking);
    // Onto his line at its nearest point: what comes after that is the way out along it.
    const double last_m = std::max(receiver.on_line.back().at, receiver.shooter.far_m - receiver.body_m);
    const double nearest =
        std::clamp(dot(goalie, receiver.shooter.line), receiver.on_line.front().at, last_m);
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
