// The other net of the rink: rule books draw both ends alike, so half a turn about the middle of the red line
// maps one onto the other.
#include "camera/made_camera.h"
#include "camera/turned.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <cmath>

namespace ropeline {
namespace {

using doctest::Approx;

const RuleBook& nhl = rule_book(RuleBookId::nhl);

/// High in the stands at the red line, with both nets in the picture.
made::Camera wide_camera(double radial = 0.0) {
    made::Camera camera;
    camera.x_m = -38.0;
    camera.y_m = 24.0;
    camera.height_m = 18.0;
    camera.looks_at = {0.0, 26.0};
    camera.focal_px = 1000.0;
    camera.radial = radial;
    return camera;
}

/// Clicks on the near net's side only, each off by a little that follows no rule.
RinkFit near_fit(const made::Camera& camera, double off_px, LensChoice lens = LensChoice::none) {
    std::vector<LandmarkClick> clicks;
    for (const Landmark& landmark : landmarks(nhl)) {
        if (landmark.at.y_m > 21.0) continue;
        ImagePoint at = made::see(camera, landmark.at);
        const double turn = 2.4 * static_cast<double>(clicks.size());
        at.x_px += off_px * std::cos(turn);
        at.y_px += off_px * std::sin(turn);
        clicks.push_back({at, landmark.at, {}});
    }
    FitOptions options;
    options.lens = lens;
    return fit_rink(clicks, camera.image, options);
}

/// A place counted from the far net, in the near net's ice: by hand, not by the code under test.
IcePoint near_of(IcePoint far) {
    return {-far.x_m, 2.0 * nhl.red_line_centre.m - far.y_m};
}

} // namespace

TEST_CASE("a fit of one net's landmarks, turned, meets clicks on the other net") {
    const made::Camera camera = wide_camera();
    const RinkFit far = turned(near_fit(camera, 0.0), nhl);
    for (const Landmark& landmark : landmarks(nhl)) {
        CAPTURE(landmark.name);
        const ImagePoint clicked = made::see(camera, near_of(landmark.at));
        const auto seen = image_at(far, landmark.at);
        REQUIRE(seen);
        CHECK(seen->x_px == Approx(clicked.x_px).epsilon(1e-7));
        CHECK(seen->y_px == Approx(clicked.y_px).epsilon(1e-7));
        const auto back = ice_at(far, clicked);
        REQUIRE(back);
        CHECK(std::abs(back->x_m - landmark.at.x_m) < 1e-5);
        CHECK(std::abs(back->y_m - landmark.at.y_m) < 1e-5);
    }
}

TEST_CASE("the same pixel is as sure on the turned ice as on the ice, lens included") {
    const made::Camera camera = wide_camera(-0.06);
    const RinkFit near = near_fit(camera, 0.8, LensChoice::radial);
    const RinkFit far = turned(near, nhl);
    REQUIRE(near.radial != 0.0);
    for (const IcePoint place : {IcePoint{0.5, 1.2}, IcePoint{-6.0, 9.0}, IcePoint{3.0, 18.0}}) {
        for (const ImagePoint at : {made::see(camera, place), made::see(camera, near_of(place))}) {
            const IceCovariance here = ice_covariance(near, at, 1.0);
            const IceCovariance there = ice_covariance(far, at, 1.0);
            CHECK(there.xx == Approx(here.xx).epsilon(1e-6));
            CHECK(there.xy == Approx(here.xy).epsilon(1e-6));
            CHECK(there.yy == Approx(here.yy).epsilon(1e-6));
        }
    }
}

TEST_CASE("turned twice, a fit is what it was") {
    const RinkFit fit = near_fit(wide_camera(-0.06), 0.8, LensChoice::radial);
    const RinkFit again = turned(turned(fit, nhl), nhl);
    for (std::size_t i = 0; i < 9; ++i) {
        CHECK(again.image_from_ice[i] == Approx(fit.image_from_ice[i]).epsilon(1e-9));
        CHECK(again.ice_from_image[i] == Approx(fit.ice_from_image[i]).epsilon(1e-9));
    }
    double largest = 0.0;
    for (const double one : fit.covariance)
        largest = std::max(largest, std::abs(one));
    for (std::size_t i = 0; i < 81; ++i)
        CHECK(std::abs(again.covariance[i] - fit.covariance[i]) < 1e-7 * largest);
    CHECK(again.radial_covariance[9] == fit.radial_covariance[9]);
    CHECK(again.rms_px == fit.rms_px);
}

TEST_CASE("a turned fit keeps the scale of every fit: its last number is 1, or -1 behind the camera") {
    CHECK(std::abs(turned(near_fit(wide_camera(), 0.5), nhl).image_from_ice[8]) == Approx(1.0));
    made::Camera between; // in front of the far blue line: the far net lies behind it
    between.y_m = 45.0;
    const RinkFit far = turned(near_fit(between, 0.5), nhl);
    CHECK(far.image_from_ice[8] == Approx(-1.0));
    CHECK_FALSE(image_at(far, {0.0, 0.0}));
}

TEST_CASE("a place counted from the other net and back is the same place") {
    const IcePoint at{-3.5, 7.25};
    CHECK(turned(at, nhl).x_m == Approx(3.5));
    CHECK(turned(at, nhl).y_m == Approx(2.0 * nhl.red_line_centre.m - 7.25));
    CHECK(turned(turned(at, nhl), nhl).y_m == Approx(at.y_m));
}

} // namespace ropeline
