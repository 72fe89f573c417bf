// What a pass to an opponent would cost: the time it leaves, the best push onto the receiver's line, and how
// much net his shot then finds. Pure functions over metres and seconds; constant speeds, straight ways.
#pragma once

#include "depth/least.h"
#include "depth/net_open.h"

#include <array>
#include <optional>
#include <string_view>

namespace ropeline {

enum class ReceiverKind {
    one_timer, ///< shoots the pass without stopping it
    stop,      ///< stops it, shoots
    tip        ///< turns a shot on its way
};
enum class Lane { open, contested };

/// An opponent who could take a pass at this moment.
struct Threat {
    IcePoint at;
    ReceiverKind kind = ReceiverKind::stop;
    Lane lane = Lane::open;
    bool took = false; ///< he is the one who got it

    bool operator==(const Threat&) const = default;
};

/// What a receiver is taken for until somebody says otherwise: within `one_timer_within_m` of the net nobody
/// has time to stop a pass.
constexpr double one_timer_within_m = 3.0;
ReceiverKind usual_kind(IcePoint at);

/// If the pass is made. Seconds run from the pass's release, or from the shot's for a tip.
struct ThreatReading {
    double pass_s = 0.0; ///< on its way to the receiver
    double have_s = 0.0; ///< until he shoots: pass_s + release
    /// On the receiver's line, at its nearest point, this much after his shot. Further out than that line's
    /// furthest is no reason to be late: short of the receiver himself any point of it will do.
    double late_s = 0.0;
    double spare_s = 0.0;         ///< or this much before it; one of the two is 0
    IcePoint goes_to;             ///< the point of the receiver's line that he pushes towards
    IcePoint arrives_at;          ///< where he is when the shot leaves
    double open_on_arrival = 0.0; ///< net open at the receiver's shot, 0..1
    double chance = 0.0;          ///< that the pass to him comes before the shot
};

constexpr double nearest_aim_m = 0.20; ///< no aim on a receiver's line nearer to the net's middle

/// A shooter the goalie would have to get to: a receiver or a loose puck, with what does not depend on the
/// goalie worked out.
struct Receiver {
    Shooter shooter;
    double pass_s = 0.0, have_s = 0.0;
    double furthest_m = 0.0; ///< furthest out on his line
    double push_m = 0.0;     ///< lateral speed * max(0, have - see)
    double lateral_speed_mps = 0.0, body_m = 0.0;
    /// Net open with the goalie on the receiver's line, at even places from `nearest_aim_m` to the furthest
    /// he aims for: the same wherever he comes from.
    std::array<Least, 9> on_line{};
    /// Directions from him along which he finds least open: where the search for the best push looks first.
    std::array<IcePoint, 3> least_rays{};
};
void look_along_line(Receiver& receiver, const Blocking& blocking); ///< fills in the last two

/// First onto the new line, then out along it: the goalie pushes straight towards a point T = t u of the
/// receiver's line, as far as his time lasts, no nearer to the receiver than `body_m`: nobody skates through
/// him. Of all t from `nearest_aim_m` to the furthest out on that line, `body_m` before the receiver at
/// most, the one with the least net open; short of it where stopping on the way, clear of the man, leaves less.
/// Out     for a receiver on or behind the goal line: nothing open, the goalie stays.
/// Notes   A goalie nearer than `body_m` already comes no nearer; away from the man he is free. So who is out
///         beyond a man at the net has him in the way. The edge is soft: between free and held is what a push
///         finds that only meets his shoulder, the outer `edge_m` of `body_m`, or starts within `edge_m` of his
///         middle.
struct Push {
    IcePoint towards, arrives_at;
    double open = 0.0;
};
Push best_push(const Receiver& receiver, IcePoint goalie, const Blocking& blocking);
double open_after_push(const Receiver& receiver, IcePoint goalie, const Blocking& blocking); ///< Push::open

ThreatReading read_threat(const Receiver& receiver, IcePoint goalie, const Blocking& blocking);

std::string_view key_of(ReceiverKind value);
std::string_view key_of(Lane value);
std::string_view label_of(ReceiverKind value); ///< "stops it, shoots"
std::optional<ReceiverKind> receiver_kind_from_key(std::string_view key);
std::optional<Lane> lane_from_key(std::string_view key);

} // namespace ropeline
