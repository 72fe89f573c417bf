#include "film/window.h"

#include <algorithm>

namespace ropeline {

double cost_of_passes(std::int64_t frames, std::int64_t window, double skipped_cost, double packing_cost) {
    double cost = 0.0;
    for (std::int64_t left = frames; left > 0; left -= window) {
        const std::int64_t kept = std::min(window, left);
        cost += skipped_cost * static_cast<double>(left - kept) +
                (1.0 + packing_cost) * static_cast<double>(kept);
    }
    return cost;
}

Window window_for(const WindowNeeds& needs) {
    constexpr std::int64_t ready = 4; // pictures next in line are wanted at once, so not packed
    const std::size_t one = std::max<std::size_t>(1, needs.picture_bytes);
    const auto fit = std::max<std::int64_t>(1, static_cast<std::int64_t>(needs.room_bytes / one));
    const Window plain{std::min(fit, needs.frames), std::min(fit, needs.frames)};
    if (needs.packed_bytes == 0 || fit >= needs.frames || fit <= 2 * ready) return plain;

    const std::size_t for_packed = needs.room_bytes - static_cast<std::size_t>(ready) * one;
    const std::int64_t more = ready + static_cast<std::int64_t>(for_packed / needs.packed_bytes);
    const Window packed{std::min(more, needs.frames), ready};
    const double plain_cost = cost_of_passes(needs.frames, plain.kept, needs.skipped_cost, 0.0);
    const double packed_cost =
        cost_of_passes(needs.frames, packed.kept, needs.skipped_cost, needs.packing_cost);
    return packed_cost < plain_cost ? packed : plain;
}

} // namespace ropeline
