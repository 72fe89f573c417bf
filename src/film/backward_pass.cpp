#include "film/backward_pass.h"

#include <algorithm>

namespace ropeline {

namespace {

std::int64_t fit_as_is(const BackwardNeeds& needs) {
    const std::size_t one = std::max<std::size_t>(1, needs.picture_bytes);
    return std::max<std::int64_t>(1, static_cast<std::int64_t>(needs.room_bytes / one));
}

/// Of a pass of `kept` frames, how many need not be packed for all of them to fit.
std::int64_t as_is_of(const BackwardNeeds& needs, std::int64_t kept) {
    if (kept <= fit_as_is(needs)) return kept;
    const auto spare = static_cast<double>(needs.room_bytes) -
                       static_cast<double>(kept) * static_cast<double>(needs.packed_bytes);
    return static_cast<std::int64_t>(
        spare / (static_cast<double>(needs.picture_bytes) - static_cast<double>(needs.packed_bytes)));
}

} // namespace

double cost_of_passes(const BackwardNeeds& needs, std::int64_t kept) {
    double cost = 0.0;
    for (std::int64_t left = needs.frames; left > 0; left -= kept) {
        const std::int64_t now = std::min(kept, left);
        cost += needs.skipped_cost * static_cast<double>(left - now) + static_cast<double>(now) +
                needs.packing_cost * static_cast<double>(now - as_is_of(needs, now));
    }
    return cost;
}

BackwardPass backward_pass_for(const BackwardNeeds& needs) {
    const std::int64_t fit = fit_as_is(needs);
    std::int64_t best = std::min(fit, needs.frames);
    if (needs.packed_bytes > 0 && needs.packed_bytes < needs.picture_bytes && fit > 2 * ready_pictures) {
        const std::size_t for_packed = needs.room_bytes - ready_pictures * needs.picture_bytes;
        const std::int64_t most = std::min(
            ready_pictures + static_cast<std::int64_t>(for_packed / needs.packed_bytes), needs.frames);
        double least = cost_of_passes(needs, best);
        for (std::int64_t kept = best + 1; kept <= most; ++kept) {
            const double cost = cost_of_passes(needs, kept);
            if (cost < least) least = cost, best = kept;
        }
    }
    return {best, std::min(best, std::max(ready_pictures, as_is_of(needs, best)))};
}

} // namespace ropeline
