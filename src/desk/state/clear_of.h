// Which stretches of a straight line on the ice are drawn, so that it never hides what is marked.
#pragma once

#include "rink/ice_point.h"
#include "season/records.h"

#include <span>
#include <utility>
#include <vector>

namespace ropeline {

struct KeptClear {
    IcePoint at;
    double radius_m = 0.0;
};

/// About the goalie's skates, the puck and every receiver of the moment.
std::vector<KeptClear> kept_clear_of(const Moment& moment);

/// Metres from `from`: the stretches of the line outside every circle, in order.
std::vector<std::pair<double, double>> clear_stretches(IcePoint from, IcePoint to,
                                                       std::span<const KeptClear> kept_clear);

} // namespace ropeline
