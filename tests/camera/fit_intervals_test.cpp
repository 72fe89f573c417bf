// Are the error bars honest? Simulated fits with known truth: a 95 % interval must hold the truth 95 times in
// a hundred. Paint lies where the rule book has it here, and the fit is told so.
#include "camera/simulated.h"

#include <doctest/doctest.h>

using namespace ropeline;
using namespace ropeline::simulated;

namespace {

/// Share of coordinates inside their 95 % interval over 2,000 fits, four marks each.
double share_inside(const Scene& from, double sigma_px, const FitOptions& options, unsigned seed) {
    Noise noise(seed);
    int inside = 0;
    const int fits = 2000 / fewer;
    for (int i = 0; i < fits; ++i) {
        const RinkFit fit = fit_rink(shaken_clicks(from, sigma_px, noise), from.camera.image, options);
        for (int k = 0; k < 4; ++k) {
            const IcePoint truth = noise.place();
            const ImagePoint mark = noise.shaken(made::see(from.camera, truth), sigma_px);
            const IcePoint at = ice_at(fit, mark).value();
            const IceCovariance spread = ice_covariance(fit, mark, fit.click_sigma_px);
            inside += std::abs(at.x_m - truth.x_m) <= 1.959963984540054 * std::sqrt(spread.xx) ? 1 : 0;
            inside += std::abs(at.y_m - truth.y_m) <= 1.959963984540054 * std::sqrt(spread.yy) ? 1 : 0;
        }
    }
    return inside / (8.0 * fits);
}

void check_honest(double share) {
    CHECK(share >= 0.95 - by_chance(0.01));
    CHECK(share <= 0.95 + by_chance(0.01));
}

} // namespace

TEST_CASE("95 % intervals hold the truth 94 to 96 times in a hundred: points, noise as stated") {
    for (const double sigma_px : {0.3, 1.0, 2.0})
        check_honest(
            share_inside(scene(eight), sigma_px, {.click_sigma_px = sigma_px, .paint_off_m = 0.0}, 1));
}

TEST_CASE("95 % intervals hold the truth 94 to 96 times in a hundred: points, noise estimated") {
    for (const double sigma_px : {0.3, 1.0, 2.0})
        check_honest(share_inside(scene(fourteen), sigma_px, {.paint_off_m = 0.0}, 6));
}

TEST_CASE("95 % intervals hold the truth 94 to 96 times in a hundred: points and curves") {
    Scene from = scene({"left_post", "right_post", "left_spot", "right_spot"});
    add_curves(from);
    for (const double sigma_px : {0.3, 1.0, 2.0})
        check_honest(share_inside(from, sigma_px, {.paint_off_m = 0.0}, 3));
}

TEST_CASE("95 % intervals hold the truth 94 to 96 times in a hundred: bent lens") {
    const FitOptions radial{.lens = LensChoice::radial, .paint_off_m = 0.0};
    for (const double sigma_px : {0.3, 1.0, 2.0}) {
        check_honest(share_inside(scene(fourteen, -0.1), sigma_px, radial, 4));
        Scene from = scene(eight, -0.1);
        add_curves(from);
        check_honest(share_inside(from, sigma_px, radial, 5));
    }
}
