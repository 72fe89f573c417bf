// The demo's pinhole camera against the rink fit and against geometry done by hand.
#include "demo/filming.h"
#include "demo/truth.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

using namespace ropeline;
using namespace ropeline::demo;

namespace {

ImagePoint mapped(const Matrix3& h, IcePoint p) {
    const double w = h[6] * p.x_m + h[7] * p.y_m + h[8];
    return {(h[0] * p.x_m + h[1] * p.y_m + h[2]) / w, (h[3] * p.x_m + h[4] * p.y_m + h[5]) / w};
}

} // namespace

TEST_CASE("a camera that looks straight down the ice from above, by hand") {
    // 10 m up over the goal line, looking 45 degrees down towards +y: the axis meets the ice at (0,
    // 10), 14.142 m away.
    const PinholeCamera camera = aimed({0.0, 0.0, 10.0}, {0.0, 10.0, 0.0}, 1000.0);
    const ImagePoint middle = picture_of(camera, {0.0, 10.0});
    CHECK(middle.x_px == doctest::Approx(640.0));
    CHECK(middle.y_px == doctest::Approx(360.0));
    const ImagePoint right = picture_of(camera, {1.0, 10.0}); // 1000 / 14.1421 pixels a metre
    CHECK(right.x_px == doctest::Approx(640.0 + 70.7107));
    CHECK(right.y_px == doctest::Approx(360.0));
    const ImagePoint far = picture_of(camera, {0.0, 20.0}); // tan(45 deg - atan(10/20)) = 1/3
    CHECK(far.y_px == doctest::Approx(360.0 - 1000.0 / 3.0));
    CHECK(far.x_px == doctest::Approx(640.0));
}

TEST_CASE("the homography and the projection agree, and the rink fit finds the homography again") {
    const demo::Play play = make_play(1, true);
    for (const auto& cameras : {end_zone_cameras(play), bench_side_cameras(play)}) {
        for (const std::size_t f : {std::size_t{0}, cameras.size() / 2, cameras.size() - 1}) {
            const Matrix3 h = image_from_ice(cameras[f]);
            CHECK(h[8] == doctest::Approx(1.0).epsilon(1e-12));
            std::vector<LandmarkClick> clicks;
            for (const Landmark& landmark : landmarks(rule_book(demo_rules))) {
                const ImagePoint at = picture_of(cameras[f], landmark.at), by_matrix = mapped(h, landmark.at);
                CHECK(at.x_px == doctest::Approx(by_matrix.x_px));
                CHECK(at.y_px == doctest::Approx(by_matrix.y_px));
                const bool seen =
                    at.x_px > 0 && at.x_px < 1280 && at.y_px > 0 && at.y_px < 720 && landmark.at.y_m < 20.0;
                if (seen) clicks.push_back({at, landmark.at, landmark.label});
            }
            REQUIRE(clicks.size() > 8);
            const RinkFit fit = fit_rink(clicks, cameras[f].size);
            CHECK(fit.rms_px < 1e-4);
            const auto goalie = ice_at(fit, picture_of(cameras[f], play.frames[f].goalie.at));
            REQUIRE(goalie);
            CHECK(distance(*goalie, play.frames[f].goalie.at) < 1e-4);
        }
    }
}

TEST_CASE("near the crease one pixel is under five centimetres of depth on the still film") {
    const PinholeCamera camera = end_zone_cameras(make_play(1, true)).front();
    for (const IcePoint at :
         {IcePoint{0.0, 0.5}, IcePoint{0.0, 1.8}, IcePoint{-1.2, 1.0}, IcePoint{1.2, 1.0}}) {
        const ImagePoint near = picture_of(camera, at), far = picture_of(camera, at + IcePoint{0.0, 0.1});
        CHECK(std::hypot(far.x_px - near.x_px, far.y_px - near.y_px) > 2.0);
    }
    const CameraAxes view = axes(camera);
    const double tall =
        project(camera, view, {0.0, 1.2, 0.0}).at.y_px - project(camera, view, {0.0, 1.2, 1.45}).at.y_px;
    CHECK(tall > 60.0); // a goalie in stance, pixels
    CHECK(tall < 110.0);
}
