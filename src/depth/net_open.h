// What a shot finds open: the share of the goal mouth that the goalie neither hides nor reaches in time.
#pragma once

#include "depth/parameters.h"
#include "rink/ice_point.h"
#include "rink/rule_book.h"

namespace ropeline {

/// The goalie as something in the way, and the mouth behind him. Metres, seconds, metres a second.
struct Blocking {
    double half_width_m = 0.0, height_m = 0.0;
    double reach_speed_mps = 0.0, reach_most_m = 0.0;
    double shot_s_per_m = 0.0;
    double half_gap_m = 0.0, net_height_m = 0.0;
    double per_mouth_m2 = 0.0; ///< 1 / the mouth's area
    double half_line_m = 0.0;  ///< half the width of the goal line's paint
};
Blocking blocking_of(const RuleBook& rules, const Parameters& parameters);

/// Who shoots from where, and when the goalie has seen it.
struct Shooter {
    IcePoint at;
    IcePoint line;      ///< unit vector from the net's middle
    double far_m = 0.0; ///< from the net's middle
    double see_s = 0.0;
};
Shooter shooter_at(IcePoint at, double see_s);

/// What hands and legs add on every side while the shot is on its way.
/// In      metres the shot has to go; seconds until the goalie has seen it.
/// Out     min(reach_most, reach_speed * max(0, way / shot speed - see)).
double reach_m(double way_m, double see_s, const Blocking& blocking);

/// Share of the mouth's area that a shot finds with the goalie at `goalie`.
/// Out     0..1. The goalie hides an upright rectangle, square to the line to the shooter, half width w / 2 +
///         reach, height h + reach, thrown onto the goal plane by straight lines from the puck on the ice:
///         the area is a closed form. What of it stands behind the goal line hides nothing: the shot is in
///         before it gets there. 0 for a shooter on or behind the goal line. 1 for a goalie beyond the
///         shooter as seen from the net.
/// Notes   The edges are soft, so that a millimetre never decides: from the goal line the share grows over
///         `edge_m`, a goalie abreast of the puck hides less over the same way, and what of him stands on
///         the paint behind the goal line's middle counts for less the further back it is.
double net_open(const Shooter& shooter, IcePoint goalie, const Blocking& blocking);
constexpr double edge_m = 0.10;

} // namespace ropeline
