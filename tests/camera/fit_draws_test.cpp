// Predicted sigmas against many draws, and the positions against OpenCV's.
#include "camera/simulated.h"

#include <doctest/doctest.h>
#include <opencv2/calib3d.hpp>

using namespace ropeline;
using namespace ropeline::simulated;

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
        const int draws = 20'000 / fewer;
        for (int i = 0; i < draws; ++i) {
            const RinkFit fit = fit_rink(shaken_clicks(from, 1.0, noise), from.camera.image, options);
            const IcePoint off = ice_at(fit, noise.shaken(mark, 1.0)).value() - truth;
            xx += off.x_m * off.x_m / draws;
            xy += off.x_m * off.y_m / draws;
            yy += off.y_m * off.y_m / draws;
        }
        CHECK(std::sqrt(predicted.xx) == doctest::Approx(std::sqrt(xx)).epsilon(by_chance(0.03)));
        CHECK(std::sqrt(predicted.yy) == doctest::Approx(std::sqrt(yy)).epsilon(by_chance(0.03)));
        CHECK(predicted.xy == doctest::Approx(xy).epsilon(by_chance(0.08)));
    }
}

// OpenCV: findHomography with method 0 refines by Levenberg-Marquardt on the same residuals.
TEST_CASE("positions are no worse than OpenCV's refined homography, and better with curves") {
    const Scene points = scene(eight);
    Scene curves = points;
    add_curves(curves);
    Noise noise(12);
    double ours = 0.0, theirs = 0.0, ours_with_curves = 0.0, predicted = 0.0, predicted_with_curves = 0.0;
    for (int i = 0; i < 2000 / fewer; ++i) {
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
    CHECK(std::sqrt(ours_with_curves / ours) == doctest::Approx(expected).epsilon(by_chance(0.05)));
}
