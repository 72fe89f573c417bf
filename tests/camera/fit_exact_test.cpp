#include "camera/made_camera.h"
#include "camera/plane_fit.h"
#include "camera/rink_fit.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>
#include <opencv2/calib3d.hpp>

#include <algorithm>
#include <random>

using namespace ropeline;

namespace {

std::vector<LandmarkClick> clicks_on(const made::Camera& camera, std::initializer_list<const char*> names) {
    std::vector<LandmarkClick> clicks;
    for (const char* name : names) {
        const Landmark mark = find_landmark(rule_book(RuleBookId::nhl), name).value();
        clicks.push_back({made::see(camera, mark.at), mark.at, mark.label});
    }
    return clicks;
}

// OpenCV's findHomography works on single-precision points, so both are given numbers that single precision
// holds.
double single(double number) {
    return static_cast<double>(static_cast<float>(number));
}

void round_to_single(std::vector<LandmarkClick>& clicks) {
    for (LandmarkClick& click : clicks) {
        click.at = {single(click.at.x_px), single(click.at.y_px)};
        click.point = {single(click.point.x_m), single(click.point.y_m)};
    }
}

double apart(ImagePoint a, ImagePoint b) {
    return std::hypot(a.x_px - b.x_px, a.y_px - b.y_px);
}

} // namespace

TEST_CASE("exact clicks give OpenCV's homography to 1e-6") {
    std::mt19937 random(7);
    for (int round = 0; round < 200; ++round) {
        const made::Camera camera = made::random_camera(random);
        auto clicks = clicks_on(camera, {"left_post", "right_post", "crease_top", "left_spot", "right_spot",
                                         "left_circle_inner", "right_circle_high", "left_circle_low"});
        clicks.resize(4 + static_cast<std::size_t>(round % 5));
        if (clicks.size() == 4) clicks[2] = clicks_on(camera, {"right_spot"})[0]; // no three on one line
        round_to_single(clicks);
        const RinkFit fit = fit_plane(clicks, camera.image);
        CHECK(fit.rms_px < 1e-3);

        std::vector<cv::Point2d> ice, pixels;
        for (const LandmarkClick& click : clicks) {
            ice.emplace_back(click.point.x_m, click.point.y_m);
            pixels.emplace_back(click.at.x_px, click.at.y_px);
        }
        const cv::Mat theirs = cv::findHomography(ice, pixels, 0);
        double largest = 0.0;
        for (int i = 0; i < 9; ++i)
            largest = std::max(largest, std::abs(theirs.at<double>(i / 3, i % 3)));
        const double scale = fit.image_from_ice[8] / theirs.at<double>(2, 2);
        for (int i = 0; i < 9; ++i) {
            CHECK(std::abs(fit.image_from_ice[static_cast<std::size_t>(i)] -
                           scale * theirs.at<double>(i / 3, i % 3)) < 1e-6 * largest * std::abs(scale));
        }
        for (const Landmark& mark : landmarks(rule_book(RuleBookId::nhl))) {
            std::vector<cv::Point2d> seen;
            cv::perspectiveTransform(std::vector<cv::Point2d>{{mark.at.x_m, mark.at.y_m}}, seen, theirs);
            const auto ours = image_at(fit, mark.at);
            const bool in_picture =
                seen[0].x > 0.0 && seen[0].x < 1920.0 && seen[0].y > 0.0 && seen[0].y < 1080.0;
            // With more than four, OpenCV stops its refinement after ten steps: 1e-6 holds for the matrix
            // only.
            if (ours && in_picture && clicks.size() == 4) CHECK(apart(*ours, {seen[0].x, seen[0].y}) < 1e-6);
        }
    }
}

TEST_CASE("exact clicks give the true camera to 1e-6 px") {
    std::mt19937 random(8);
    for (int round = 0; round < 200; ++round) {
        const made::Camera camera = made::random_camera(random);
        const RinkFit fit = fit_rink(
            clicks_on(camera, {"left_post", "right_post", "left_spot", "right_spot", "left_circle_inner"}),
            camera.image);
        CHECK(fit.rms_px < 1e-6);
        for (const Landmark& mark : landmarks(rule_book(RuleBookId::nhl))) {
            const auto seen = image_at(fit, mark.at);
            if (!seen || seen->x_px < 0.0 || seen->x_px > 1920.0 || seen->y_px < 0.0 || seen->y_px > 1080.0)
                continue;
            CHECK(apart(*seen, made::see(camera, mark.at)) < 1e-6);
            CHECK(distance(ice_at(fit, made::see(camera, mark.at)).value(), mark.at) < 1e-6);
        }
    }
}

// OpenCV refines its least-squares homography by Levenberg-Marquardt on the same image residuals (method 0).
// It stops earlier, so it may only be as good or worse.
TEST_CASE("noisy clicks leave no larger residuals than OpenCV's refined homography") {
    std::mt19937 random(11);
    std::normal_distribution<double> noise(0.0, 1.5);
    for (int round = 0; round < 100; ++round) {
        const made::Camera camera = made::random_camera(random);
        auto clicks = clicks_on(camera, {"left_post", "right_post", "crease_top", "left_spot", "right_spot",
                                         "left_circle_inner", "right_circle_high", "left_circle_low"});
        std::vector<cv::Point2d> ice, pixels;
        for (LandmarkClick& click : clicks) {
            click.at.x_px += noise(random);
            click.at.y_px += noise(random);
        }
        round_to_single(clicks);
        for (const LandmarkClick& click : clicks) {
            ice.emplace_back(click.point.x_m, click.point.y_m);
            pixels.emplace_back(click.at.x_px, click.at.y_px);
        }
        const RinkFit fit = fit_plane(clicks, camera.image);
        const cv::Mat theirs = cv::findHomography(ice, pixels, 0);
        std::vector<cv::Point2d> seen;
        cv::perspectiveTransform(ice, seen, theirs);
        double their_error = 0.0;
        for (std::size_t i = 0; i < seen.size(); ++i)
            their_error += std::pow(cv::norm(seen[i] - pixels[i]), 2);
        const double our_error = fit.rms_px * fit.rms_px * static_cast<double>(2 * clicks.size());
        CHECK(our_error <= their_error * (1.0 + 1e-9));
    }
}

TEST_CASE("pixels and ice go round and come back") {
    std::mt19937 random(3);
    for (int round = 0; round < 50; ++round) {
        const made::Camera camera = made::random_camera(random);
        const RinkFit fit =
            fit_rink(clicks_on(camera, {"left_post", "right_post", "left_spot", "right_spot", "crease_top"}),
                     camera.image);
        for (double x = 0.0; x <= 1920.0; x += 160.0) {
            for (double y = 0.0; y <= 1080.0; y += 90.0) {
                const auto ice = ice_at(fit, {x, y});
                if (!ice) continue;
                const auto back = image_at(fit, *ice);
                REQUIRE(back.has_value());
                CHECK(apart(*back, {x, y}) < 1e-6);
            }
        }
    }
}

TEST_CASE("above the horizon there is no ice, behind the camera no picture") {
    made::Camera camera;
    camera.height_m = 6.0;
    camera.looks_at = {0.0, -20.0}; // looks nearly level: the horizon is in the picture
    camera.focal_px = 900.0;
    const RinkFit fit =
        fit_rink(clicks_on(camera, {"left_post", "right_post", "left_spot", "right_spot", "crease_top"}),
                 camera.image);
    // The camera looks 6 m down over 60 m: the horizon is 0.1 x 900 = 90 px above the middle of the picture.
    CHECK_FALSE(ice_at(fit, {960.0, 440.0}).has_value());
    CHECK_FALSE(ice_at(fit, {960.0, 0.0}).has_value());
    CHECK(ice_at(fit, {960.0, 470.0}).has_value());
    CHECK_FALSE(image_at(fit, {0.0, 45.0}).has_value());
    CHECK_THROWS_AS(ice_covariance(fit, {960.0, 0.0}, 1.0), FitError);
}

TEST_CASE("a net behind the camera still gives a fit that faces forward") {
    made::Camera camera;
    camera.y_m = 8.0;
    camera.height_m = 10.0;
    camera.looks_at = {0.0, 25.0};
    const RinkFit fit =
        fit_rink(clicks_on(camera, {"left_blue_line_low", "right_blue_line_low", "left_neutral_spot",
                                    "right_neutral_spot", "centre_spot"}),
                 camera.image);
    CHECK(fit.image_from_ice[8] == doctest::Approx(-1.0));
    CHECK(image_at(fit, {0.0, 27.0}).has_value());
    CHECK_FALSE(image_at(fit, {0.0, -1.0}).has_value());
}
