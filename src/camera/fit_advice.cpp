#include "camera/fit_advice.h"

#include "camera/dense.h"
#include "camera/fit_solve.h"
#include "camera/homography.h"
#include "camera/paint_off.h"
#include "camera/turning_camera.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace ropeline {
namespace {

using Matrix9 = Eigen::Matrix<double, 9, 9>;
using Slope = Eigen::Matrix<double, 2, 9>;

Slope slope_by_numbers(const RinkFit& fit, IcePoint at) {
    return straight_by_numbers(to_eigen(fit.image_from_ice), {at.x_m, at.y_m});
}

Eigen::Matrix2d pixels_by_ice(const RinkFit& fit, IcePoint at) {
    const Eigen::Matrix3d matrix = to_eigen(fit.image_from_ice);
    const Eigen::Vector3d seen = matrix * Eigen::Vector3d{at.x_m, at.y_m, 1.0};
    return (matrix.topLeftCorner<2, 2>() - seen.hnormalized() * matrix.block<1, 2>(2, 0)) / seen.z();
}

using Numbers = Eigen::Matrix<double, 9, 1>;

/// Depth at places before the net as a function of the nine numbers, to first order.
std::array<Numbers, 4> depths_by_numbers(const RinkFit& fit) {
    constexpr std::array<IcePoint, 4> places{{{0.0, 1.0}, {-0.8, 1.0}, {0.8, 1.0}, {0.0, 2.2}}};
    std::array<Numbers, 4> depths;
    std::ranges::transform(places, depths.begin(), [&](IcePoint at) -> Numbers {
        const Eigen::Vector2d along = Eigen::Vector2d{at.x_m, at.y_m}.normalized();
        return slope_by_numbers(fit, at).transpose() * (pixels_by_ice(fit, at).inverse().transpose() * along);
    });
    return depths;
}

double mean_sigma(const std::array<Numbers, 4>& depths, const Matrix9& covariance) {
    double sum = 0.0;
    for (const Numbers& depth : depths)
        sum += std::sqrt(std::max(0.0, depth.dot(covariance * depth)));
    return sum / static_cast<double>(depths.size());
}

Matrix9 homography_covariance(const RinkFit& fit) {
    return Eigen::Map<const Eigen::Matrix<double, 9, 9, Eigen::RowMajor>>(fit.covariance.data());
}

/// One more measurement of one or two numbers: the update of Kalman's filter.
Matrix9 updated(const Matrix9& now, const Eigen::MatrixXd& slope, const Eigen::MatrixXd& spread) {
    const Eigen::MatrixXd of_slope = product(slope, now);
    const Eigen::MatrixXd total = product(of_slope, slope.transpose()) + spread;
    return now - product(product(of_slope.transpose(), inverse_of(total)), of_slope);
}

std::optional<ImagePoint> in_picture(const RinkFit& fit, IcePoint at) {
    constexpr double edge_px = 4.0;
    const std::optional<ImagePoint> seen = image_at(fit, at);
    if (!seen || seen->x_px < edge_px || seen->y_px < edge_px || seen->x_px > fit.image.width_px - edge_px ||
        seen->y_px > fit.image.height_px - edge_px) {
        return std::nullopt;
    }
    return seen;
}

double turn(const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

/// Corners of the hull, in order of turn.
/// Source  Andrew, Another efficient algorithm for convex hulls in two dimensions, Information Processing
///         Letters 9 (1979) 216.
std::vector<Eigen::Vector2d> convex_hull(std::span<const ImagePoint> points) {
    std::vector<Eigen::Vector2d> sorted;
    for (const ImagePoint& point : points)
        sorted.emplace_back(point.x_px, point.y_px);
    std::ranges::sort(sorted, {}, [](const Eigen::Vector2d& p) { return std::pair{p.x(), p.y()}; });
    std::vector<Eigen::Vector2d> hull;
    for (int side = 0; side < 2; ++side) {
        const std::size_t start = hull.size();
        for (const Eigen::Vector2d& point : sorted) {
            while (hull.size() >= start + 2 &&
                   turn(hull.back() - hull[hull.size() - 2], point - hull.back()) <= 0.0)
                hull.pop_back();
            hull.push_back(point);
        }
        hull.pop_back(); // the first of the other side
        std::ranges::reverse(sorted);
    }
    return hull;
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

double depth_sigma_before_net_m(const RinkFit& fit) {
    return mean_sigma(depths_by_numbers(fit), homography_covariance(fit));
}

std::vector<NextClick> next_clicks(const RinkFit& fit, std::span<const IcePoint> clicked,
                                   const RuleBook& rules) {
    const Matrix9 now = homography_covariance(fit);
    const std::array<Numbers, 4> depths = depths_by_numbers(fit);
    const auto is_clicked = [&](IcePoint at, double within_m) {
        return std::ranges::any_of(clicked, [&](IcePoint one) { return distance(one, at) < within_m; });
    };
    std::vector<NextClick> clicks;
    for (const Landmark& mark : landmarks(rules)) {
        const std::optional<ImagePoint> expected = in_picture(fit, mark.at);
        if (!expected || is_clicked(mark.at, 0.2)) continue;
        const Eigen::Matrix2d spread =
            click_spread(pixels_by_ice(fit, mark.at), off_the_book_m(mark.at_boards, usual_paint_off_m),
                         fit.click_sigma_px);
        const Matrix9 then = updated(now, slope_by_numbers(fit, mark.at), spread);
        clicks.push_back({mark.name, false, mark.at, *expected, mean_sigma(depths, then)});
    }
    for (const IceCurve& curve : ice_curves(rules)) {
        std::optional<NextClick> best;
        const std::vector<IcePoint> places = places_along(curve);
        const double off_m = off_the_book_m(at_boards(curve), usual_paint_off_m);
        for (std::size_t i = 0; i + 1 < places.size(); ++i) {
            const IcePoint along = places[i + 1] - places[i];
            const std::optional<ImagePoint> expected = in_picture(fit, places[i]);
            if (!expected || is_clicked(places[i], 1.0) || !(length(along) > 0.0)) continue;
            const Eigen::Matrix2d pixel_by_ice = pixels_by_ice(fit, places[i]);
            const Eigen::Vector2d unit = Eigen::Vector2d{along.x_m, along.y_m}.normalized();
            const Eigen::Vector2d seen = pixel_by_ice * unit;
            const Eigen::RowVector2d across = Eigen::RowVector2d{-seen.y(), seen.x()}.normalized();
            const Eigen::Matrix<double, 1, 9> slope = across * slope_by_numbers(fit, places[i]);
            const Eigen::MatrixXd spread = Eigen::MatrixXd::Constant(
                1, 1, click_spread_across(pixel_by_ice, unit, off_m, fit.click_sigma_px));
            const double sigma_m = mean_sigma(depths, updated(now, slope, spread));
            if (!best || sigma_m < best->sigma_then_m)
                best = NextClick{curve.name, true, places[i], *expected, sigma_m};
        }
        if (best) clicks.push_back(*best);
    }
    std::ranges::stable_sort(clicks, {}, &NextClick::sigma_then_m);
    return clicks;
}

bool worth_a_click(double sigma_now_m, const NextClick& click) {
    return click.sigma_then_m < 0.9 * sigma_now_m;
}

bool extrapolated(std::span<const ImagePoint> clicks, ImagePoint at) {
    if (clicks.size() < 3) return true;
    const std::vector<Eigen::Vector2d> hull = convex_hull(clicks);
    Eigen::AlignedBox2d box;
    bool inside = hull.size() > 2;
    double least_px = std::numeric_limits<double>::infinity();
    const Eigen::Vector2d place{at.x_px, at.y_px};
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const Eigen::Vector2d from = hull[i], along = hull[(i + 1) % hull.size()] - from;
        const double share =
            std::clamp((place - from).dot(along) / std::max(along.squaredNorm(), 1e-9), 0.0, 1.0);
        least_px = std::min(least_px, (place - from - share * along).norm());
        inside = inside && turn(along, place - from) >= 0.0;
        box.extend(from);
    }
    return !inside && least_px > 0.5 * box.diagonal().norm();
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
