#include "sheet/overlay_ink.h"

#include <algorithm>

namespace ropeline {

std::vector<std::pair<double, double>> inked_stretches(double length, double dash) {
    std::vector<std::pair<double, double>> inked;
    if (!(dash > 0.0)) return inked;
    const double gap = 0.35 * dash, dot = 0.22 * dash;
    for (double from = 0.0; from < length; from += dash + dot + 2.0 * gap) {
        inked.emplace_back(from, std::min(length, from + dash));
        if (from + dash + gap < length)
            inked.emplace_back(from + dash + gap, std::min(length, from + dash + gap + dot));
    }
    return inked;
}

} // namespace ropeline
