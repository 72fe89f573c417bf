// Are the error bars honest? Simulated fits with known truth: a 95 % interval must hold the truth 95 times in
// a hundred.
#include "camera/made_camera.h"
#include "camera/rink_fit.h"
#include "rink/curves.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>
#include <opencv2/calib3d.hpp>

#include <cmath>
#include <random>
#include <string>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);

struct Scene {
    made::Camera camera;
    std::vector<Landmark> marks;
    std::vector<std::pair<std::string, IcePoint>> on_curves;
};

Scene scene(std::initializer_list<const char*> names, double radial = 0.0) {
    Scene made;
    made.camera.x_m = 6.0;
    made.camera.y_m = 33.0;
    made.camera.height_m = 11.0;
    made.camera.looks_at = {0.5, 6.0};
    made.camera.focal_px = 1900.0;
    made.camera.radial = radial;
    for (const char* name : names)
        made.marks.push_back(find_landmark(nhl, name).value());
    return made;
}

const std::initializer_list<const char*> eight{"left_post",          "right_post",     "crease_top",
                                               "left_spot",          "right_spot",     "left_circle_high",
                                               "right_circle_inner", "left_circle_low"};
const std::initializer_list<const char*> fourteen{
    "left_post",         "right_post",         "crease_top",        "left_spot",        "right_spot",
    "left_circle_high",  "right_circle_inner", "left_circle_low",   "right_circle_low", "right_circle_high",
    "left_circle_inner", "left_circle_outer",  "right_inner_l_low", "left_outer_l_high"};

class Noise {
public:
    explicit Noise(unsigned seed) : random_(seed) {}
    ImagePoint shaken(ImagePoint at, double sigma_px) {
        const double x = normal_(random_), y = normal_(random_);
        return {at.x_px + sigma_px * x, at.y_px + sigma_px * y};
    }
    IcePoint place() { return {-4.0 + 8.0 * share_(random_), 0.2 + 7.0 * share_(random_)}; }

private:
    std::mt19937 random_;
    std::normal_distribution<double> normal_;
    std::uniform_real_distribution<double> share_;
};

RinkClicks shaken_clicks(const Scene& from, double sigma_px, Noise& noise) {
    RinkClicks clicks;
    for (const Landmark& mark : from.marks) {
        clicks.points.push_back(
            {noise.shaken(made::see(from.camera, mark.at), sigma_px), mark.at, mark.label});
    }
    for (const auto& [curve, at] : from.on_curves) {
        clicks.curves.push_back(
            {noise.shaken(made::see(from.camera, at), sigma_px), find_curve(nhl, curve).value()});
    }
    return clicks;
}

/// Share of coordinates inside their 95 % interval over 2,000 fits, four marks each.
double share_inside(const Scene& from, double sigma_px, const FitOptions& options, unsigned seed) {
    Noise noise(seed);
    int inside = 0;
    constexpr int fits = 2000;
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
    CHECK(share >= 0.94);
    CHECK(share <= 0.96);
}

void add_curves(Scene& to) {
    for (const double x : {-6.0, -1.0, 4.0})
        to.on_curves.emplace_back("goal_line", IcePoint{x, 0.0});
    for (const double angle : {0.4, 1.5, 2.7, 4.0, 5.5}) {
        to.on_curves.emplace_back(
            "left_circle", IcePoint{-6.7056 + 4.572 * std::cos(angle), 6.096 + 4.572 * std::sin(angle)});
        to.on_curves.emplace_back(
            "right_circle", IcePoint{6.7056 + 4.572 * std::cos(angle), 6.096 + 4.572 * std::sin(angle)});
    }
    for (const double angle : {1.2, 1.9}) {
        to.on_curves.emplace_back("crease", IcePoint{1.8288 * std::cos(angle), 1.8288 * std::sin(angle)});
    }
}

} // namespace

TEST_CASE("95 % intervals hold the truth 94 to 96 times in a hundred: points, noise as stated") {
    for (const double sigma_px : {0.3, 1.0, 2.0})
        check_honest(share_inside(scene(eight), sigma_px, {.click_sigma_px = sigma_px}, 1));
}

TEST_CASE("95 % intervals hold the truth 94 to 96 times in a hundred: points, noise estimated") {
    for (const double sigma_px : {0.3, 1.0, 2.0})
        check_honest(share_inside(scene(fourteen), sigma_px, {}, 6));
}

TEST_CASE("95 % intervals hold the truth 94 to 96 times in a hundred: points and curves") {
    Scene from = scene({"left_post", "right_post", "left_spot", "right_spot"});
    add_curves(from);
    for (const double sigma_px : {0.3, 1.0, 2.0})
        check_honest(share_inside(from, sigma_px, {}, 3));
}

TEST_CASE("95 % intervals hold the truth 94 to 96 times in a hundred: bent lens") {
    const FitOptions radial{.lens = LensChoice::radial};
    for (const double sigma_px : {0.3, 1.0, 2.0}) {
        check_honest(share_inside(scene(fourteen, -0.1), sigma_px, radial, 4));
        Scene from = scene(eight, -0.1);
        add_curves(from);
        check_honest(share_inside(from, sigma_px, radial, 5));
    }
}

TEST_CASE("sigmas agree with 20,000 draws within 3 %") {
    for (const double radial : {0.0, -0.1}) {
        CAPTURE(radial);
        const Scene from = scene(fourteen, radial);
        const FitOptions options{.lens = radial != 0.0 ? LensChoice::radial : LensChoice::none};
        Noise noise(9);
        const IcePoint truth{1.1, 2.3};
        const ImagePoint mark = made::see(from.camera, truth);
        RinkFit exact = fit_rink(shaken_clicks(from, 0.0, noise), from.camera.image, options);
        // Exact clicks have no residuals to estimate noise from: put the covariance at one pixel.
        const RinkFit noisy = fit_rink(shaken_clicks(from, 1.0, noise), from.camera.image, options);
        exact.covariance = noisy.covariance;
        exact.radial_covariance = noisy.radial_covariance;
        for (double& number : exact.covariance)
            number /= noisy.click_sigma_px * noisy.click_sigma_px;
        for (double& number : exact.radial_covariance)
            number /= noisy.click_sigma_px * noisy.click_sigma_px;
        const IceCovariance predicted = ice_covariance(exact, mark, 1.0);

        double xx = 0.0, yy = 0.0, xy = 0.0;
        constexpr int draws = 20'000;
        for (int i = 0; i < draws; ++i) {
            const RinkFit fit = fit_rink(shaken_clicks(from, 1.0, noise), from.camera.image, options);
            const IcePoint off = ice_at(fit, noise.shaken(mark, 1.0)).value() - truth;
            xx += off.x_m * off.x_m / draws;
            xy += off.x_m * off.y_m / draws;
            yy += off.y_m * off.y_m / draws;
        }
        CHECK(std::sqrt(predicted.xx) == doctest::Approx(std::sqrt(xx)).epsilon(0.03));
        CHECK(std::sqrt(predicted.yy) == doctest::Approx(std::sqrt(yy)).epsilon(0.03));
        CHECK(predicted.xy == doctest::Approx(xy).epsilon(0.08));
    }
}

// OpenCV: findHomography with method 0 refines by Levenberg-Marquardt on the same residuals.
TEST_CASE("positions are no worse than OpenCV's refined homography, and better with curves") {
    const Scene points = scene(eight);
    Scene curves = points;
    add_curves(curves);
    Noise noise(12);
    double ours = 0.0, theirs = 0.0, ours_with_curves = 0.0, predicted = 0.0, predicted_with_curves = 0.0;
    for (int i = 0; i < 2000; ++i) {
        const RinkClicks clicks = shaken_clicks(curves, 1.0, noise);
        const RinkFit fit = fit_rink(clicks.points, points.camera.image);
        const RinkFit with_curves = fit_rink(clicks, points.camera.image);
        std::vector<cv::Point2d> ice, pixels;
        for (const LandmarkClick& click : clicks.points) {
            ice.emplace_back(click.point.x_m, click.point.y_m);
            pixels.emplace_back(click.at.x_px, click.at.y_px);
        }
        const cv::Mat ice_from_image = cv::findHomography(ice, pixels, 0).inv();
        for (int k = 0; k < 10; ++k) {
            const IcePoint truth = noise.place();
            const ImagePoint mark = made::see(points.camera, truth);
            std::vector<cv::Point2d> mapped;
            cv::perspectiveTransform(std::vector<cv::Point2d>{{mark.x_px, mark.y_px}}, mapped,
                                     ice_from_image);
            ours += std::pow(distance(ice_at(fit, mark).value(), truth), 2);
            ours_with_curves += std::pow(distance(ice_at(with_curves, mark).value(), truth), 2);
            theirs += std::pow(distance({mapped[0].x, mapped[0].y}, truth), 2);
            const IceCovariance spread = ice_covariance(fit, mark, 0.0),
                                tight = ice_covariance(with_curves, mark, 0.0);
            predicted += spread.xx + spread.yy;
            predicted_with_curves += (tight.xx + tight.yy) / std::pow(with_curves.click_sigma_px, 2);
        }
    }
    MESSAGE("RMS ratio to OpenCV " << std::sqrt(ours / theirs) << ", with curves "
                                   << std::sqrt(ours_with_curves / theirs));
    CHECK(std::sqrt(ours / theirs) <= 1.0 + 1e-5);
    const double expected = std::sqrt(predicted_with_curves / predicted);
    CHECK(expected < 0.8);
    CHECK(std::sqrt(ours_with_curves / ours) == doctest::Approx(expected).epsilon(0.05));
}
