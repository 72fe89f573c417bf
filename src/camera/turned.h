// The other net. A rink is the same after half a turn about its middle, so a fit made with one net's
// landmarks serves the net at the other end.
#pragma once

#include "camera/rink_fit.h"

namespace ropeline {

/// The same view with the ice counted from the other net: its goal line, x to the right and y up-ice as seen
/// from there. Residuals and warnings stay, they belong to the picture.
/// Out     image_from_ice composed with the half turn about the middle of the red line, covariance with it.
///         Turned twice it is the fit it was.
/// Source  the rink is symmetric about its middle (rule books, section on the playing area); covariance to
///         first order.
RinkFit turned(const RinkFit& fit, const RuleBook& rules);

/// A place on the ice, counted from the other net.
IcePoint turned(IcePoint at, const RuleBook& rules);

} // namespace ropeline
