// One fit out of two that were carried to the same frame: from the key fit before it and from the one after.
#pragma once

#include "camera/carry.h"

namespace ropeline {

/// Both weighed by their covariance. They saw the same paint, so they are not independent, and the sigma of
/// the blend is right whatever they share; where one is much better the blend is that one.
/// In      the same frame of the same film, twice.
/// Out     the state is the better of the two, and `unsure` when they contradict each other: four of their
///         sigmas and 0.15 m apart. A lost one counts for nothing, an unsure one for nothing beside a held
///         one.
/// Source  Julier & Uhlmann, A non-divergent estimation algorithm in the presence of unknown correlations,
///         ACC 1997; weighed as by Niehsen, Information fusion based on fast covariance intersection
///         filtering, 2002.
CarriedFrame blended(const CarriedFrame& one, const CarriedFrame& other);

} // namespace ropeline
