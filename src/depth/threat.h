// What a pass to an opponent would cost: the time it leaves, the time the goalie needs, and what that means
// for depth. Pure functions over metres and seconds; constant speeds, straight ways.
#pragma once

#include "depth/reading.h"

#include <optional>

namespace ropeline {

/// An opponent who could take a pass at this moment.
struct Threat {
    IcePoint at;
    bool one_timer = false; ///< shoots the pass without stopping it
    bool open = true;       ///< the pass lane is open
};

/// If the pass is made. Seconds run from the pass's release.
struct ThreatReading {
    double pass_s = 0.0;   ///< |R - P| / v_pass
    double have_s = 0.0;   ///< pass_s + t_release
    double need_s = 0.0;   ///< t_see + |new_spot - G| / v_lateral
    double margin_s = 0.0; ///< recovery margin, have_s - need_s; below 0 the goalie is still moving
    /// Furthest depth on the puck line that still reaches; 0: no depth does; none: every depth does.
    std::optional<double> reach_depth_m;
    IcePoint new_spot;   ///< d u_R, the same depth on the receiver's line
    IcePoint arrives_at; ///< where on the straight way there the goalie is when the shot leaves
    /// Share of the receiver's net angle hidden when the shot leaves, the goalie square to the receiver;
    /// none for a receiver on or behind the goal line.
    std::optional<double> coverage_on_arrival;
};

/// d* = v_lateral (t_have - t_see) / (2 sin(phi / 2)), phi the angle at the net's middle between puck and
/// receiver: at depth d the way across is the chord 2 d sin(phi / 2).
/// Out     metres; 0 when the shot leaves before the pass is seen; none beyond `unbounded_reach_m`.
constexpr double unbounded_reach_m = 100.0;
std::optional<double> reach_depth_m(const Threat& threat, IcePoint puck, const Parameters& parameters);

/// In      a depth below 0 (the goalie further from the puck than the net's middle) counts as 0: nobody goes
///         into the net.
ThreatReading read_threat(const Threat& threat, IcePoint goalie, IcePoint puck, const RuleBook& rules,
                          const Parameters& parameters);

} // namespace ropeline
