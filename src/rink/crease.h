// The crease: its outline and how far out its edge is along a direction.
#pragma once

#include "rink/ice_point.h"
#include "rink/rule_book.h"

#include <vector>

namespace ropeline {

/// Outer edge of the crease paint as a polyline from the left side of the goal line over the top to the right
/// side. Metres; `steps` chords along the arc.
std::vector<IcePoint> crease_outline(const RuleBook& rules, int steps = 64);

/// Distance in metres from the middle of the goal line to the outer edge of the crease along `direction`
/// (any length but zero; only its angle counts). Directions behind the goal line use the nearer end of the
/// outline on the goal line. Source: depth model, "crease edge" c(u).
double crease_edge_m(const RuleBook& rules, IcePoint direction);

} // namespace ropeline
