#include "tally/proportion.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace ropeline {

Interval wilson(int successes, int trials, double z) {
    assert(trials >= 1 && successes >= 0 && successes <= trials);
    const double n = trials;
    const double share = successes / n;
    const double z_squared = z * z;
    const double middle = share + z_squared / (2.0 * n);
    const double half = z * std::sqrt(share * (1.0 - share) / n + z_squared / (4.0 * n * n));
    const double scale = 1.0 + z_squared / n;
    // None or all of them: that end is 0 or 1, which the difference of two rounded numbers would miss.
    return {successes == 0 ? 0.0 : std::max(0.0, (middle - half) / scale),
            successes == trials ? 1.0 : std::min(1.0, (middle + half) / scale)};
}

} // namespace ropeline
