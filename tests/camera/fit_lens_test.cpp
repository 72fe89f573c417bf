#include "camera/made_camera.h"
#include "camera/rink_fit.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using namespace ropeline;

namespace {

made::Camera bent_camera(double radial) {
    made::Camera camera;
    camera.focal_px = 1400.0;
    camera.y_m = 30.0;
    camera.looks_at = {1.0, 8.0};
    camera.radial = radial;
    return camera;
}

std::vector<LandmarkClick> all_in_view(const made::Camera& camera, double noise_px = 0.0, unsigned seed = 1) {
    std::mt19937 random(seed);
    std::normal_distribution<double> noise(0.0, 1.0);
    std::vector<LandmarkClick> clicks;
    for (const Landmark& mark : landmarks(rule_book(RuleBookId::nhl))) {
        if (mark.at.y_m > 15.0 || mark.name.ends_with("crease_mark")) continue;
        const ImagePoint at = made::see(camera, mark.at);
        if (!(at.x_px > 0.0 && at.x_px < 1920.0 && at.y_px > 0.0 && at.y_px < 1080.0)) continue;
        clicks.push_back(
            {{at.x_px + noise_px * noise(random), at.y_px + noise_px * noise(random)}, mark.at, mark.label});
    }
    return clicks;
}

} // namespace

TEST_CASE("barrel and pincushion lenses are recovered exactly from exact clicks") {
    for (const double radial : {-0.25, -0.08, 0.0, 0.05, 0.15}) {
        CAPTURE(radial);
        const made::Camera camera = bent_camera(radial);
        const RinkFit fit = fit_rink(all_in_view(camera), camera.image, {.lens = LensChoice::radial});
        CHECK(fit.rms_px < 1e-6);
        CHECK(fit.radial == doctest::Approx(radial).epsilon(1e-7));
        for (double x = 0.0; x <= 1920.0; x += 240.0) {
            for (double y = 400.0; y <= 1080.0; y += 170.0) {
                const auto ice = ice_at(fit, {x, y});
                if (!ice) continue;
                CHECK(std::abs(made::see(camera, *ice).x_px - x) < 1e-5);
                const auto back = image_at(fit, *ice);
                REQUIRE(back.has_value());
                CHECK(std::hypot(back->x_px - x, back->y_px - y) < 1e-6);
            }
        }
    }
}

TEST_CASE("the automatic lens is taken when the clicks support it and left alone when not") {
    const made::Camera bent = bent_camera(-0.12);
    const RinkFit with = fit_rink(all_in_view(bent, 0.7), bent.image, {.lens = LensChoice::automatic});
    CHECK(with.radial == doctest::Approx(-0.12).epsilon(0.1));
    int taken = 0;
    for (unsigned seed = 1; seed <= 200; ++seed) {
        const made::Camera straight = bent_camera(0.0);
        const RinkFit fit =
            fit_rink(all_in_view(straight, 0.7, seed), straight.image, {.lens = LensChoice::automatic});
        taken += fit.radial != 0.0 ? 1 : 0;
    }
    CHECK(taken <= 2); // one in a thousand by chance
}

TEST_CASE("a bent lens needs a fifth click") {
    const made::Camera camera = bent_camera(-0.1);
    std::vector<LandmarkClick> clicks;
    for (const char* name : {"left_post", "right_post", "left_spot", "right_spot"}) {
        const Landmark mark = find_landmark(rule_book(RuleBookId::nhl), name).value();
        clicks.push_back({made::see(camera, mark.at), mark.at, mark.label});
    }
    CHECK_THROWS_AS(fit_rink(clicks, camera.image, {.lens = LensChoice::radial}), FitError);
    CHECK(fit_rink(clicks, camera.image, {.lens = LensChoice::automatic}).radial == 0.0);
}
