#include "camera/rink_fit.h"
#include "camera/plane_fit.h"

#include "camera/click_checks.h"
#include "camera/fit_residuals.h"
#include "camera/homography.h"
#include "camera/outliers.h"
#include "camera/projection.h"
#include "camera/sight.h"

#include <Eigen/LU>
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

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

/// 97.5 % point of Student's t over that of the normal curve, by the Cornish-Fisher expansion.
/// Source  Abramowitz & Stegun, Handbook of Mathematical Functions, 26.7.5; good to 0.001 from six upwards.
double student_over_normal(double freedom) {
    constexpr double z = 1.959963984540054, z3 = z * z * z, z5 = z3 * z * z, z7 = z5 * z * z;
    const double t = z + (z3 + z) / (4.0 * freedom) +
                     (5.0 * z5 + 16.0 * z3 + 3.0 * z) / (96.0 * freedom * freedom) +
                     (3.0 * z7 + 19.0 * z5 + 17.0 * z3 - 15.0 * z) / (384.0 * freedom * freedom * freedom);
    return t / z;
}

/// Click sigma that the covariance rests on. With enough clicks it is estimated, and widened so that 1.96
/// sigmas hold 95 % although it is only an estimate. With fewer clicks the stated sigma holds unless the
/// residuals contradict it.
double believed_noise_px(const SolvedFit& fit, double stated_px) {
    if (fit.freedom <= 0) return stated_px;
    const double estimate = std::sqrt(fit.squared_error / fit.freedom);
    if (fit.freedom >= freedom_to_estimate_noise) return estimate * student_over_normal(fit.freedom);
    return contradicts(fit, stated_px) ? estimate : stated_px;
}

/// Seen from above the ice, right-handed ice (x right, y up-ice) becomes left-handed pixels (y down).
void check_not_mirrored(const RinkClicks& clicks, ImageSize image) {
    FitTerms points;
    for (const LandmarkClick& click : clicks.points) {
        points.points.push_back({{click.at.x_px, click.at.y_px}, {click.point.x_m, click.point.y_m}});
    }
    const std::optional<Eigen::Matrix3d> linear = linear_fit(points);
    if (linear && linear->determinant() < 0.0) return;
    const std::optional<SolvedFit> solved = solve_fit(points, image, false);
    if (solved && solved->image_from_ice.determinant() > 0.0) {
        throw FitError(FitFault::mirrored,
                       "the clicks show the rink as in a mirror; left and right are as seen from the "
                       "net looking up-ice, so swap the left and right landmarks");
    }
}

/// How far apart two cameras put what is seen near the net, or below the middle where it is not in sight.
double apart_m(const RinkFit& fit, const Eigen::Matrix3d& rival) {
    double most = 0.0;
    for (const ImagePoint at : places_that_matter(fit)) {
        const auto here = ice_at(fit, at);
        const Eigen::Vector3d there =
            rival.inverse() * straightened(lens_of(fit.image), fit.radial, {at.x_px, at.y_px}).homogeneous();
        if (here)
            most = std::max(most,
                            std::hypot(there.x() / there.z() - here->x_m, there.y() / there.z() - here->y_m));
    }
    return most;
}

/// A line of the picture where the ice ends: does it cross the picture?
bool horizon_in_picture(const RinkFit& fit) {
    const double right = fit.image.width_px, bottom = fit.image.height_px;
    const Eigen::RowVector3d row = to_eigen(fit.ice_from_image).row(2);
    const std::array<Eigen::Vector2d, 4> corners{{{0.0, 0.0}, {right, 0.0}, {0.0, bottom}, {right, bottom}}};
    return std::ranges::any_of(corners, [&](const Eigen::Vector2d& corner) {
        return row * straightened(lens_of(fit.image), fit.radial, corner).homogeneous() <= 0.0;
    });
}

void fill_residuals(const RinkClicks& clicks, const AgreedFit& agreed, RinkFit& fit) {
    const Lens lens = lens_of(fit.image);
    const RowMatrix3 matrix = agreed.fit.image_from_ice;
    for (const LandmarkClick& click : clicks.points) {
        Eigen::Vector2d pixel = Eigen::Vector2d::Constant(std::numeric_limits<double>::quiet_NaN());
        project(matrix, lens, fit.radial, Eigen::Vector2d{click.point.x_m, click.point.y_m}, pixel);
        fit.residuals.push_back({click.at.x_px - pixel.x(), click.at.y_px - pixel.y()});
    }
    std::size_t used = 0;
    for (std::size_t i = 0; i < clicks.curves.size(); ++i) {
        const std::size_t click = clicks.points.size() + i;
        const auto stray = std::ranges::find(agreed.left_out, click, &LeftOut::click);
        if (stray == agreed.left_out.end()) {
            const Eigen::Vector2d& offset = agreed.fit.curve_residuals[used++];
            fit.curve_residuals.push_back({offset.x(), offset.y()});
        } else {
            fit.curve_residuals.push_back(
                curve_residual(fit, clicks.curves[i]).value_or(ImagePoint{stray->off_px, 0.0}));
        }
    }
}

void add_warnings(const RinkClicks& clicks, const AgreedFit& agreed, const FitOptions& options,
                  RinkFit& fit) {
    for (const LeftOut& stray : agreed.left_out) {
        const bool is_point = stray.click < clicks.points.size();
        const std::string name = is_point ? name_of(clicks.points[stray.click])
                                          : name_of(clicks.curves[stray.click - clicks.points.size()]);
        fit.warnings.push_back(
            fmt::format("{} is {:.0f} px from where the other {} put it; the fit leaves it out", name,
                        stray.off_px, count_word(stray.others)));
    }
    if (contradicts(agreed.fit, options.click_sigma_px)) {
        fit.warnings.push_back(
            fmt::format("the clicks disagree by {:.1f} px where {:.1f} px is expected of a click; "
                        "every position is given that much less trust",
                        fit.click_sigma_px, options.click_sigma_px));
    }
    constexpr double another_m = 0.3;
    if (agreed.fit.rival && apart_m(fit, *agreed.fit.rival) > another_m) {
        fit.warnings.push_back(
            fmt::format("another camera sees the clicks as well and has the net {:.1f} m from here; "
                        "click one more landmark",
                        apart_m(fit, *agreed.fit.rival)));
    }
    if (horizon_in_picture(fit)) {
        fit.warnings.emplace_back(
            "the horizon of the ice crosses the picture; marks near it have no sure place");
    }
}

void check_request(const RinkClicks& clicks, ImageSize image, const FitOptions& options) {
    if (!std::isfinite(options.click_sigma_px) || options.click_sigma_px <= 0.0) {
        throw FitError(FitFault::bad_number, "the click sigma must be above 0 px");
    }
    check_clicks(clicks, image);
    if (options.lens == LensChoice::radial && 2 * clicks.points.size() + clicks.curves.size() < 9) {
        throw FitError(FitFault::too_few,
                       "a fit with a bent lens needs one more click than a plain one: five landmarks, or "
                       "another click on a line");
    }
    check_not_mirrored(clicks, image);
}

RinkFit fit_of(const RinkClicks& clicks, const AgreedFit& agreed, ImageSize image,
               const FitOptions& options) {
    const SolvedFit& solved = agreed.fit;

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
    const std::size_t numbers = 2 * solved.point_residuals.size() + solved.curve_residuals.size();
    double squared_px = 0.0;
    for (const auto* residuals : {&solved.point_residuals, &solved.curve_residuals})
        for (const Eigen::Vector2d& residual : *residuals)
            squared_px += residual.squaredNorm();
    fit.rms_px = std::sqrt(squared_px / static_cast<double>(numbers));
    fill_residuals(clicks, agreed, fit);
    add_warnings(clicks, agreed, options, fit);
    return fit;
}

} // namespace

RinkFit fit_rink(const RinkClicks& clicks, ImageSize image, const FitOptions& options) {
    check_request(clicks, image, options);
    return fit_of(clicks, fit_what_agrees(clicks, image, options), image, options);
}

RinkFit fit_rink(std::span<const LandmarkClick> clicks, ImageSize image, const FitOptions& options) {
    return fit_rink(RinkClicks{{clicks.begin(), clicks.end()}, {}}, image, options);
}

RinkFit fit_plane(const RinkClicks& clicks, ImageSize image, const FitOptions& options) {
    check_request(clicks, image, options);
    return fit_of(clicks, fit_of_any_plane(clicks, image, options), image, options);
}

RinkFit fit_plane(std::span<const LandmarkClick> clicks, ImageSize image, const FitOptions& options) {
    return fit_plane(RinkClicks{{clicks.begin(), clicks.end()}, {}}, image, options);
}

std::optional<ImagePoint> curve_residual(const RinkFit& fit, const CurveClick& click) {
    const RowMatrix3 matrix = to_eigen(fit.image_from_ice);
    CurveTerm term{{click.at.x_px, click.at.y_px}, &click.curve};
    for (int round = 0; round < 4; ++round) {
        Eigen::Vector2d offset;
        double distance_px = 0.0;
        if (!across_curve(matrix, lens_of(fit.image), fit.radial, term, offset, distance_px))
            return std::nullopt;
        term.pixel -= offset;
    }
    return ImagePoint{click.at.x_px - term.pixel.x(), click.at.y_px - term.pixel.y()};
}

void tell_residuals(const RinkClicks& clicks, RinkFit& fit) {
    fit.residuals.clear();
    fit.curve_residuals.clear();
    for (const LandmarkClick& click : clicks.points) {
        const ImagePoint there = image_at(fit, click.point).value_or(click.at);
        fit.residuals.push_back({click.at.x_px - there.x_px, click.at.y_px - there.y_px});
    }
    for (const CurveClick& click : clicks.curves)
        fit.curve_residuals.push_back(curve_residual(fit, click).value_or(ImagePoint{}));
}

} // namespace ropeline
