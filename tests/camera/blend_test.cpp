// Two fits of one frame from clicks made apart: a blend must be nearer the truth than either, and its sigma
// honest.
#include "camera/blend.h"
#include "camera/made_camera.h"
#include "camera/plane_fit.h"
#include "camera/sight.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using namespace ropeline;

namespace {

const made::Camera camera;

CarriedFrame frame_of(double noise_px, unsigned seed, CarryState state = CarryState::held,
                      const made::Camera& seen_by = camera) {
    std::mt19937 random(seed);
    std::normal_distribution<double> noise(0.0, noise_px);
    std::vector<LandmarkClick> clicks;
    for (const char* name : {"left_post", "right_post", "crease_top", "left_spot", "right_spot",
                             "left_circle_inner", "right_circle_high"}) {
        const Landmark mark = find_landmark(rule_book(RuleBookId::nhl), name).value();
        const ImagePoint at = made::see(seen_by, mark.at);
        clicks.push_back({{at.x_px + noise(random), at.y_px + noise(random)}, mark.at, mark.label});
    }
    CarriedFrame frame;
    frame.state = state;
    frame.fit = fit_plane(clicks, seen_by.image, {.click_sigma_px = noise_px});
    frame.sigma_m = sigma_in_sight(frame.fit);
    return frame;
}

double error_m(const RinkFit& fit, IcePoint truth) {
    return distance(ice_at(fit, made::see(camera, truth)).value(), truth);
}

double worst_apart_px(const RinkFit& a, const RinkFit& b) {
    double worst = 0.0;
    for (const IcePoint at : {IcePoint{-4.0, 0.5}, {4.0, 0.5}, {4.0, 9.0}, {-4.0, 9.0}}) {
        const ImagePoint p = image_at(a, at).value(), q = image_at(b, at).value();
        worst = std::max(worst, std::hypot(p.x_px - q.x_px, p.y_px - q.y_px));
    }
    return worst;
}

} // namespace

TEST_CASE("a fit blended with itself is itself, with the same sigma") {
    const CarriedFrame one = frame_of(1.0, 3);
    const CarriedFrame both = blended(one, one);
    CHECK(worst_apart_px(both.fit, one.fit) < 1e-9);
    CHECK(both.sigma_m == doctest::Approx(one.sigma_m).epsilon(0.01));
    CHECK(both.fit.image_from_ice[8] == doctest::Approx(1.0));
}

TEST_CASE("equal fits meet in the middle, whichever comes first") {
    const CarriedFrame one = frame_of(1.0, 3), other = frame_of(1.0, 4);
    const CarriedFrame both = blended(one, other), turned = blended(other, one);
    CHECK(worst_apart_px(both.fit, turned.fit) < 1e-3);
    for (const IcePoint at : {IcePoint{0.0, 1.0}, {2.0, 4.0}}) {
        const ImagePoint a = image_at(one.fit, at).value(), b = image_at(other.fit, at).value(),
                         m = image_at(both.fit, at).value();
        CHECK(std::hypot(m.x_px - (a.x_px + b.x_px) / 2.0, m.y_px - (a.y_px + b.y_px) / 2.0) <
              0.1 * std::hypot(a.x_px - b.x_px, a.y_px - b.y_px) + 0.05);
    }
}

TEST_CASE("a much better fit is hardly moved by a poor one") {
    const CarriedFrame good = frame_of(0.3, 3), poor = frame_of(3.0, 4);
    const CarriedFrame both = blended(poor, good);
    CHECK(worst_apart_px(both.fit, good.fit) < 0.05 * worst_apart_px(poor.fit, good.fit));
    CHECK(both.sigma_m < 1.02 * good.sigma_m);
}

TEST_CASE("over many draws the blend is better than both, and its 95 % intervals hold the truth") {
    double of_one = 0.0, of_other = 0.0, of_both = 0.0;
    int inside = 0, judged = 0;
    for (unsigned draw = 0; draw < 500; ++draw) {
        const CarriedFrame one = frame_of(1.0, 2 * draw), other = frame_of(1.3, 2 * draw + 1);
        const CarriedFrame both = blended(one, other);
        for (const IcePoint truth : {IcePoint{0.3, 1.2}, {-1.0, 2.0}, {3.0, 6.0}}) {
            of_one += std::pow(error_m(one.fit, truth), 2);
            of_other += std::pow(error_m(other.fit, truth), 2);
            of_both += std::pow(error_m(both.fit, truth), 2);
            const ImagePoint at = made::see(camera, truth);
            const IcePoint mapped = ice_at(both.fit, at).value();
            const IceCovariance spread = ice_covariance(both.fit, at, 0.0);
            inside += std::abs(mapped.x_m - truth.x_m) <= 1.959963984540054 * std::sqrt(spread.xx) ? 1 : 0;
            inside += std::abs(mapped.y_m - truth.y_m) <= 1.959963984540054 * std::sqrt(spread.yy) ? 1 : 0;
            judged += 2;
        }
    }
    MESSAGE("RMS of one " << std::sqrt(of_one / 1500) << " m, of the other " << std::sqrt(of_other / 1500)
                          << " m, blended " << std::sqrt(of_both / 1500) << " m; inside "
                          << 100.0 * inside / judged << " %");
    CHECK(of_both < 0.8 * std::min(of_one, of_other)); // independent draws: close to half
    CHECK(inside > 0.95 * judged); // never too sure: the blend does not assume they are independent
}

TEST_CASE("a lost fit counts for nothing, an unsure one for nothing beside a held one") {
    const CarriedFrame held = frame_of(1.0, 3), unsure = frame_of(0.3, 4, CarryState::unsure),
                       lost = frame_of(0.3, 5, CarryState::lost);
    CHECK(blended(held, lost).fit.image_from_ice == held.fit.image_from_ice);
    CHECK(blended(unsure, held).fit.image_from_ice == held.fit.image_from_ice);
    CHECK(blended(lost, unsure).state == CarryState::unsure);
    CHECK(blended(lost, lost).state == CarryState::lost);
}

TEST_CASE("two sure fits that contradict each other are unsure") {
    made::Camera beside = camera;
    beside.looks_at.x_m += 0.5; // half a metre to the side
    const CarriedFrame both = blended(frame_of(0.5, 3), frame_of(0.5, 4, CarryState::held, beside));
    CHECK(both.state == CarryState::unsure);
    CHECK(blended(frame_of(0.5, 3), frame_of(0.5, 4)).state == CarryState::held);
}

TEST_CASE("bent lenses are blended in the film's own pixels") {
    made::Camera bent = camera;
    bent.radial = -0.1;
    std::vector<LandmarkClick> clicks;
    for (const Landmark& mark : landmarks(rule_book(RuleBookId::nhl))) {
        const ImagePoint at = made::see(bent, mark.at);
        if (at.x_px > 0 && at.x_px < 1920 && at.y_px > 0 && at.y_px < 1080 && mark.at.y_m < 15.0)
            clicks.push_back({at, mark.at, mark.label});
    }
    CarriedFrame one;
    one.state = CarryState::held;
    one.fit = fit_rink(clicks, bent.image, {.lens = LensChoice::radial});
    one.sigma_m = 0.02;
    const CarriedFrame both = blended(one, one);
    CHECK(both.fit.radial == one.fit.radial);
    CHECK(worst_apart_px(both.fit, one.fit) < 1e-6);
}

TEST_CASE("a fit is widened to what paint allows, and left as it is where it sees no ice") {
    RinkFit fit = frame_of(0.1, 3).fit;
    const double before_m = sigma_in_sight(fit);
    REQUIRE(before_m < 0.02);
    CHECK(widen_to_paint(fit) == doctest::Approx(std::hypot(before_m, 0.035)));
    CHECK(sigma_in_sight(fit) == doctest::Approx(std::hypot(before_m, 0.035)).epsilon(1e-3));

    for (double& number : fit.image_from_ice) // the rink behind the camera
        number = -number;
    for (double& number : fit.ice_from_image)
        number = -number;
    const auto covariance = fit.covariance;
    REQUIRE(places_that_matter(fit).empty());
    CHECK(std::isinf(widen_to_paint(fit)));
    CHECK(fit.covariance == covariance);
}
