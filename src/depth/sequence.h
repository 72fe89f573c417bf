// Several moments of one play: how the goalie moved between them.
#pragma once

#include "rink/ice_point.h"

#include <optional>

namespace ropeline {

/// The goalie's way between two moments, taken apart about the middle of the net: a turn about it and a way
/// out along the new line.
struct Way {
    double turn_rad = 0.0; ///< angle at the net's middle from the old place to the new one, positive to the
                           ///< right seen from the net; 0 when one of the two is the net's middle
    double out_m = 0.0;    ///< |G1| - |G0|: positive is coming out
    double length_m = 0.0; ///< |G1 - G0|
};
Way way_between(IcePoint from, IcePoint to);

/// What share of the whole turn and of the whole way out was done at the moment between.
struct AngleBeforeDepth {
    double turn_share = 0.0, out_share = 0.0; ///< 0 at the start, 1 at the end; may lie outside
    bool held = false;                        ///< turn_share >= out_share
};
/// Out     none when the whole turn is under `least_turn_rad` or the whole way out under `least_out_m`: then
///         there is no order to speak of. Own proposal: about what a click can tell.
constexpr double least_turn_rad = 0.05;
constexpr double least_out_m = 0.10;
std::optional<AngleBeforeDepth> angle_before_depth(IcePoint from, IcePoint between, IcePoint to);

/// Mean speed between two marks, m/s; none unless `seconds` is above 0 and at most `longest_look_s`, beyond
/// which a mean says nothing of the release.
constexpr double longest_look_s = 0.5;
std::optional<double> speed_mps(IcePoint from, IcePoint to, double seconds);

/// Set: feet stopped at the release, slower than `set_below_mps` between two marks a few frames apart.
constexpr double set_below_mps = 0.3;
std::optional<bool> set_at(IcePoint shortly_before, IcePoint at_release, double seconds);

} // namespace ropeline
