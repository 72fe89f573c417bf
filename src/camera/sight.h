// Where a fit matters to a goalie's coach, and how sure it is there.
#pragma once

#include "camera/rink_fit.h"

#include <vector>

namespace ropeline {

/// Pixels around the net when it is in sight, else over the lower picture; empty when no ice is there.
std::vector<ImagePoint> places_that_matter(const RinkFit& fit);

/// The worst standard deviation of these places, metres, without a click's own; infinite when there are none.
double sigma_in_sight(const RinkFit& fit);

} // namespace ropeline
