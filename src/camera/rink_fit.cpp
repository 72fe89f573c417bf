#include "camera/rink_fit.h"

#include "camera/click_checks.h"
#include "camera/homography.h"
#include "camera/outliers.h"
#include "camera/projection.h"

#include <Eigen/LU>
#include <fmt/core.h>

#include <cmath>

namespace ropeline {
namespace {

constexpr int freedom_to_estimate_noise = 10;

/// Do the residuals contradict the stated click sigma? 1 % level of chi squared by Wilson and Hilferty's
/// cube.
bool contradicts(const SolvedFit& fit, double stated_px) {
    if (fit.freedom <= 0) return false;
    const double ninth = 2.0 / (9.0 * fit.freedom);
    const double most = fit.freedom * std::pow(1.0 - ninth + 2.3263478740408408 * std::sqrt(ninth), 3.0);
    return fit.squared_error > most * stated_px * stated_px;
}

/// Click sigma that the covariance rests on. With enough clicks it is estimated; dividing by two less than
/// the freedom gives the spread of the matching t distribution, so that 1.96 sigmas hold 95 % although the
/// noise is only estimated. With fewer clicks the stated sigma holds unless the residuals contradict it.
double believed_noise_px(const SolvedFit& fit, double stated_px) {
    if (fit.freedom >= freedom_to_estimate_noise) return std::sqrt(fit.squared_error / (fit.freedom - 2.0));
    return contradicts(fit, stated_px) ? std::sqrt(fit.squared_error / fit.freedom) : stated_px;
}

std::string left_out_warning(const LandmarkClick& click, const LeftOut& stray) {
    return fmt::format("{} is {:.0f} px from where the other {} put it; the fit leaves it out",
                       name_of(click), stray.off_px, count_word(stray.others));
}

} // namespace

RinkFit fit_rink(std::span<const LandmarkClick> clicks, ImageSize image, const FitOptions& options) {
    if (!std::isfinite(options.click_sigma_px) || options.click_sigma_px <= 0.0) {
        throw FitError(FitFault::bad_number, "the click sigma must be above 0 px");
    }
    check_clicks(clicks, image);
    const AgreedFit agreed = fit_what_agrees(clicks, image, options.click_sigma_px);
    const SolvedFit& solved = agreed.fit;
    // Seen from above the ice, right-handed ice (x right, y up-ice) becomes left-handed pixels (y down).
    if (solved.image_from_ice.determinant() > 0.0) {
        throw FitError(FitFault::mirrored,
                       "the clicks show the rink as in a mirror; left and right are as seen from the net "
                       "looking up-ice, so swap the left and right landmarks");
    }

    RinkFit fit;
    fit.image = image;
    fit.image_from_ice = from_eigen(solved.image_from_ice);
    fit.ice_from_image = from_eigen(solved.image_from_ice.inverse());
    fit.radial = solved.radial;
    fit.click_sigma_px = believed_noise_px(solved, options.click_sigma_px);
    const Eigen::Matrix<double, 10, 10> covariance =
        fit.click_sigma_px * fit.click_sigma_px * solved.unit_covariance;
    Eigen::Map<Eigen::Matrix<double, 9, 9, Eigen::RowMajor>>(fit.covariance.data()) =
        covariance.topLeftCorner<9, 9>();
    Eigen::Map<Eigen::Matrix<double, 10, 1>>(fit.radial_covariance.data()) = covariance.col(9);

    const Lens lens = lens_of(image);
    const RowMatrix3<double> matrix = solved.image_from_ice;
    for (const LandmarkClick& click : clicks) {
        Eigen::Vector2d pixel{std::nan(""), std::nan("")};
        project<double>(matrix, lens, solved.radial, Eigen::Vector2d{click.point.x_m, click.point.y_m},
                        pixel);
        fit.residuals.push_back({click.at.x_px - pixel.x(), click.at.y_px - pixel.y()});
    }
    fit.rms_px = std::sqrt(solved.squared_error / static_cast<double>(2 * solved.residuals.size()));
    for (const LeftOut& stray : agreed.left_out)
        fit.warnings.push_back(left_out_warning(clicks[stray.click], stray));
    if (contradicts(solved, options.click_sigma_px)) {
        fit.warnings.push_back(
            fmt::format("the clicks disagree by {:.1f} px where {:.1f} px is expected of a click; every "
                        "position is given that much less trust",
                        fit.click_sigma_px, options.click_sigma_px));
    }
    return fit;
}

} // namespace ropeline
