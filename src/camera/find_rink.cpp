#include "camera/find_rink.h"

#include "camera/locate.h"
#include "camera/sight.h"
#include "camera/turning_camera.h"

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

/// A place that was looked from already needs no second look.
bool looked_from(std::span<const CameraBelief> tried, const CameraBelief& belief) {
    constexpr double same_place_m = 0.5;
    return std::ranges::any_of(tried, [&](const CameraBelief& one) {
        return (one.camera.place_m - belief.camera.place_m).norm() < same_place_m;
    });
}

} // namespace

std::optional<FoundRink> find_rink(std::span<const RinkFit> fits, const RuleBook& rules,
                                   const PictureView& picture) {
    std::vector<CameraBelief> tried;
    std::optional<FoundRink> found;
    double most_sigmas = 0.0;
    for (std::size_t i = 0; i < fits.size(); ++i) {
        const std::optional<CameraBelief> belief = turning_camera_of(fits[i], 8.0);
        if (!belief || looked_from(tried, *belief)) continue;
        tried.push_back(*belief);
        const std::optional<Located> here = locate(*belief, picture, rules);
        if (!here || here->evidence.sigmas <= most_sigmas) continue;
        most_sigmas = here->evidence.sigmas;
        found = FoundRink{i, {}};
        CarriedFrame& frame = found->frame;
        frame.state = CarryState::held;
        frame.fit = fit_of(here->paint.belief);
        frame.rms_px = frame.fit.rms_px = here->paint.rms_px;
        frame.sigma_m = widen_to_paint(frame.fit);
        frame.paint_agreed = here->paint.agreed;
        frame.paint_expected = here->paint.expected;
    }
    return found;
}

} // namespace ropeline
