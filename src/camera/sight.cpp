#include "camera/sight.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace ropeline {

std::vector<ImagePoint> places_that_matter(const RinkFit& fit) {
    std::vector<ImagePoint> places;
    for (const IcePoint at : {IcePoint{-1.5, 0.5}, IcePoint{1.5, 0.5}, IcePoint{0.0, 2.0}}) {
        const auto pixel = image_at(fit, at);
        if (pixel && pixel->x_px > 0.0 && pixel->y_px > 0.0 && pixel->x_px < fit.image.width_px &&
            pixel->y_px < fit.image.height_px) {
            places.push_back(*pixel);
        }
    }
    if (!places.empty()) return places;
    for (const double x : {0.25, 0.5, 0.75}) {
        const ImagePoint at{x * fit.image.width_px, 0.7 * fit.image.height_px};
        if (ice_at(fit, at)) places.push_back(at);
    }
    return places;
}

double sigma_in_sight(const RinkFit& fit) {
    const std::vector<ImagePoint> places = places_that_matter(fit);
    double worst = places.empty() ? std::numeric_limits<double>::infinity() : 0.0;
    for (const ImagePoint at : places) {
        const IceCovariance spread = ice_covariance(fit, at, 0.0);
        worst = std::max(worst, std::sqrt(std::max(spread.xx, spread.yy)));
    }
    return worst;
}

double widen_to_paint(RinkFit& fit) {
    constexpr double floor_m = 0.035;
    const double sigma_m = sigma_in_sight(fit), widened_m = std::hypot(sigma_m, floor_m);
    if (!std::isfinite(sigma_m)) return sigma_m; // no ice in sight: nothing to widen it by
    const double more = widened_m / std::max(sigma_m, 1e-6);
    for (double& number : fit.covariance)
        number *= more * more;
    for (double& number : fit.radial_covariance)
        number *= more * more;
    return widened_m;
}

} // namespace ropeline
