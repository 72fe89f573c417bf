// Where a fit matters to a goalie's coach, and how sure it is there.
#pragma once

#include "camera/rink_fit.h"

#include <vector>

namespace ropeline {

/// Pixels around the net when it is in sight, else over the lower picture; empty when no ice is there.
std::vector<ImagePoint> places_that_matter(const RinkFit& fit);

/// The worst standard deviation of these places, metres, without a click's own; infinite when there are none.
double sigma_in_sight(const RinkFit& fit);

/// Widens the covariance of a fit that rests on a film's paint to what such a fit can know: no rink is painted by the
/// book, no film sharp enough for less than 3.5 cm. A click's own is not in it.
/// Out     the sigma then.
/// Source  measured: paint of one broadcast rink lies 3 to 5 cm off the rule book.
double widen_to_paint(RinkFit& fit);

} // namespace ropeline
