// How sure a depth is, from how sure the marks are.
#pragma once

#include "depth/reading.h"

#include <span>

namespace ropeline {

/// Standard deviation of the depth, metres, to first order.
/// In      joint covariance of the marks, row-major, metres squared, in the order left skate, right skate,
///         puck (6x6), or goalie, puck (4x4) for a stance of one mark; what a rink fit makes them share is
///         part of it.
/// Source  d = G.u, so dd = u.dG + (G - d u).dP / |P|.
double depth_sigma_m(const Stance& stance, IcePoint puck, std::span<const double> joint_covariance);

} // namespace ropeline
