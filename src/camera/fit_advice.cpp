#include "camera/fit_advice.h"

#include "camera/fit_solve.h"
#include "camera/homography.h"
#include "camera/turning_camera.h"

#include <Eigen/LU>
#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {
namespace {

using Matrix9 = Eigen::Matrix<double, 9, 9>;
using Slope = Eigen::Matrix<double, 2, 9>;

Slope slope_by_numbers(const RinkFit& fit, IcePoint at) {
    const Eigen::Vector3d from{at.x_m, at.y_m, 1.0};
    const Eigen::Vector3d seen = to_eigen(fit.image_from_ice) * from;
    Slope slope = Slope::Zero();
    slope.block<1, 3>(0, 0) = slope.block<1, 3>(1, 3) = from.transpose() / seen.z();
    slope.rightCols<3>() = -seen.hnormalized() * from.transpose() / seen.z();
    return slope;
}

/// Mean depth sigma over places before the net, metres.
double depth_sigma_m(const RinkFit& fit, const Matrix9& covariance) {
    double sum = 0.0;
    constexpr std::array<IcePoint, 4> places{{{0.0, 1.0}, {-0.8, 1.0}, {0.8, 1.0}, {0.0, 2.2}}};
    for (const IcePoint at : places) {
        const Eigen::Vector3d seen = to_eigen(fit.image_from_ice) * Eigen::Vector3d{at.x_m, at.y_m, 1.0};
        Eigen::Matrix<double, 2, 3> by_seen;
        by_seen << 1.0 / seen.z(), 0.0, -seen.x() / (seen.z() * seen.z()), 0.0, 1.0 / seen.z(),
            -seen.y() / (seen.z() * seen.z());
        const Eigen::Matrix2d by_ice = by_seen * to_eigen(fit.image_from_ice).leftCols<2>();
        const Slope slope = by_ice.inverse() * slope_by_numbers(fit, at);
        const Eigen::Vector2d along = Eigen::Vector2d{at.x_m, at.y_m}.normalized();
        sum += std::sqrt(std::max(0.0, along.dot(slope * covariance * slope.transpose() * along)));
    }
    return sum / static_cast<double>(places.size());
}

std::optional<SolvedFit> fit_by(std::span<const NamedClick> clicks, const RuleBook& rules, ImageSize image) {
    FitTerms terms;
    for (const NamedClick& click : clicks) {
        const std::optional<Landmark> mark = find_landmark(rules, click.name);
        if (!mark) return std::nullopt;
        terms.points.push_back({{click.at.x_px, click.at.y_px}, {mark->at.x_m, mark->at.y_m}});
    }
    return solve_fit(terms, image, false);
}

} // namespace

std::optional<NextLandmark> next_landmark(const RinkFit& fit, std::span<const IcePoint> clicked,
                                          const RuleBook& rules) {
    const Matrix9 now = Eigen::Map<const Eigen::Matrix<double, 9, 9, Eigen::RowMajor>>(fit.covariance.data());
    const double sigma_now_m = depth_sigma_m(fit, now);
    std::optional<NextLandmark> best;
    double least_m = 0.9 * sigma_now_m;
    for (const Landmark& mark : landmarks(rules)) {
        if (std::ranges::any_of(clicked, [&](IcePoint at) { return distance(at, mark.at) < 0.2; })) continue;
        const auto expected = image_at(fit, mark.at);
        constexpr double edge_px = 4.0;
        if (!expected || expected->x_px < edge_px || expected->y_px < edge_px ||
            expected->x_px > fit.image.width_px - edge_px || expected->y_px > fit.image.height_px - edge_px) {
            continue;
        }
        // One more measurement of two numbers: the update of Kalman's filter.
        const Slope slope = slope_by_numbers(fit, mark.at);
        const Eigen::Matrix2d noise = Eigen::Matrix2d::Identity() * (fit.click_sigma_px * fit.click_sigma_px);
        const Eigen::Matrix2d total = slope * now * slope.transpose() + noise;
        const Matrix9 then = now - now * slope.transpose() * total.inverse() * slope * now;
        const double sigma_then_m = depth_sigma_m(fit, then);
        if (sigma_then_m < least_m) {
            least_m = sigma_then_m;
            best = NextLandmark{mark, *expected, sigma_now_m, sigma_then_m};
        }
    }
    return best;
}

bool extrapolated(std::span<const ImagePoint> clicks, ImagePoint at) {
    if (clicks.size() < 3) return true;
    std::vector<cv::Point2f> points, hull;
    for (const ImagePoint& click : clicks)
        points.emplace_back(static_cast<float>(click.x_px), static_cast<float>(click.y_px));
    cv::convexHull(points, hull);
    const cv::Rect2f box = cv::boundingRect(hull);
    const double extent_px = std::hypot(box.width, box.height);
    const double inside_px =
        cv::pointPolygonTest(hull, {static_cast<float>(at.x_px), static_cast<float>(at.y_px)}, true);
    return inside_px < -0.5 * extent_px;
}

std::optional<HeightBias> height_bias(const RinkFit& fit, ImagePoint at, double height_m) {
    const std::optional<CameraBelief> camera = turning_camera_of(fit, 10.0);
    const std::optional<IcePoint> ice = ice_at(fit, at);
    if (!camera || !ice) return std::nullopt;
    const Eigen::Vector3d& place = camera->camera.place_m;
    const double away_m = std::hypot(ice->x_m - place.x(), ice->y_m - place.y());
    if (!(place.z() > height_m)) return std::nullopt;
    return HeightBias{place.z(), height_m * away_m / (place.z() - height_m)};
}

std::optional<RuleBookId> better_rule_book(std::span<const NamedClick> clicks, RuleBookId chosen,
                                           ImageSize image, const FitOptions& options) {
    const std::optional<SolvedFit> now = fit_by(clicks, rule_book(chosen), image);
    if (!now || now->freedom < 2) return std::nullopt;
    const double variance = options.click_sigma_px * options.click_sigma_px;
    constexpr double decisive = 25.0; // of twice the log likelihood: five sigmas
    std::optional<RuleBookId> better;
    double least = now->squared_error - decisive * variance;
    for (const RuleBook& book : rule_books()) {
        if (book.id == chosen) continue;
        const std::optional<SolvedFit> then = fit_by(clicks, book, image);
        if (!then || then->squared_error >= least || then->squared_error > 4.0 * then->freedom * variance)
            continue;
        least = then->squared_error;
        better = book.id;
    }
    return better;
}

} // namespace ropeline
