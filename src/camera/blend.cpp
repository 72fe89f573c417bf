#include "camera/blend.h"

#include "camera/dense.h"
#include "camera/homography.h"
#include "camera/projection.h"
#include "camera/sight.h"

#include <Eigen/LU>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace ropeline {
namespace {

using Pixels = Eigen::Matrix<double, 8, 1>;
using Spread = Eigen::Matrix<double, 8, 8>;
using Places = std::array<IcePoint, 4>;

/// Four places on the ice near the corners of what the picture shows of it.
std::optional<Places> corners_of_ice(const RinkFit& fit) {
    constexpr double far_m = 60.0;
    const auto place = [&](double x, double y) {
        return ice_at(fit, {x * fit.image.width_px, y * fit.image.height_px});
    };
    for (double top = 0.1; top < 0.75; top += 0.1) {
        const auto a = place(0.1, top), b = place(0.9, top), c = place(0.1, 0.95), d = place(0.9, 0.95);
        if (a && b && c && d && length(*a) < far_m && length(*b) < far_m) return Places{*a, *b, *c, *d};
    }
    return std::nullopt;
}

/// A fit as the pixels of four places and their spread; pixels are straightened by the lens of `radial`.
struct FourPixels {
    Pixels at;
    Spread spread;
};

/// Slope of the straightened pixels by the nine numbers.
Eigen::Matrix<double, 8, 9> slope_of(const Eigen::Matrix3d& image_from_ice, const Places& places) {
    Eigen::Matrix<double, 8, 9> slope;
    for (std::size_t i = 0; i < places.size(); ++i)
        slope.middleRows<2>(static_cast<Eigen::Index>(2 * i)) =
            straight_by_numbers(image_from_ice, {places[i].x_m, places[i].y_m});
    return slope;
}

std::optional<FourPixels> four_pixels(const RinkFit& fit, const Places& places, double radial) {
    constexpr double floor_px = 0.02; // a turning camera has seven numbers, four pixels eight
    FourPixels four;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const auto pixel = image_at(fit, places[i]);
        if (!pixel) return std::nullopt;
        four.at.segment<2>(static_cast<Eigen::Index>(2 * i)) =
            straightened(lens_of(fit.image), radial, Eigen::Vector2d{pixel->x_px, pixel->y_px});
    }
    const auto slope = slope_of(to_eigen(fit.image_from_ice), places);
    const Eigen::Map<const Eigen::Matrix<double, 9, 9, Eigen::RowMajor>> of_numbers(fit.covariance.data());
    four.spread = slope * of_numbers * slope.transpose();
    four.spread.diagonal().array() += floor_px * floor_px;
    return four;
}

/// The fit of which these are the pixels.
std::optional<RinkFit> fit_through(const FourPixels& four, const Places& places, const RinkFit& like) {
    Spread rows = Spread::Zero();
    for (std::size_t i = 0; i < places.size(); ++i) {
        const Eigen::Vector3d from{places[i].x_m, places[i].y_m, 1.0};
        const auto row = static_cast<Eigen::Index>(2 * i);
        rows.block<1, 3>(row, 0) = rows.block<1, 3>(row + 1, 3) = from.transpose();
        rows.block<2, 2>(row, 6) = -four.at.segment<2>(row) * from.head<2>().transpose();
    }
    // The last number is 1 or, with the net behind the camera, -1: solved as 1, then turned.
    Eigen::Matrix<double, 9, 1> numbers;
    numbers << inverse_of(rows) * four.at, 1.0;
    const Eigen::Matrix3d matrix = like.image_from_ice[8] * Eigen::Map<const RowMatrix3>(numbers.data());
    if (!matrix.allFinite()) return std::nullopt;
    const Spread by_numbers = slope_of(matrix, places).leftCols<8>();
    const Spread back = inverse_of(by_numbers);
    RinkFit fit = like;
    fit.image_from_ice = from_eigen(matrix);
    fit.ice_from_image = from_eigen(matrix.inverse());
    Eigen::Map<Eigen::Matrix<double, 9, 9, Eigen::RowMajor>> covariance(fit.covariance.data());
    covariance.setZero();
    covariance.topLeftCorner<8, 8>() = back * four.spread * back.transpose();
    fit.radial_covariance.fill(0.0);
    return fit;
}

bool contradict(const CarriedFrame& one, const CarriedFrame& other) {
    const double most_m = std::max(0.15, 4.0 * std::hypot(one.sigma_m, other.sigma_m));
    return std::ranges::any_of(places_that_matter(one.fit), [&](ImagePoint at) {
        const auto a = ice_at(one.fit, at), b = ice_at(other.fit, at);
        return !a || !b || distance(*a, *b) > most_m;
    });
}

} // namespace

CarriedFrame blended(const CarriedFrame& one, const CarriedFrame& other) {
    const bool other_first =
        other.state < one.state || (other.state == one.state && other.sigma_m < one.sigma_m);
    const CarriedFrame& better = other_first ? other : one;
    const CarriedFrame& worse = other_first ? one : other;
    if (worse.state != better.state || better.state == CarryState::lost) return better;
    if (std::abs(std::abs(better.fit.image_from_ice[8]) - 1.0) > 1e-9) return better;

    const std::optional<Places> places = corners_of_ice(better.fit);
    if (!places) return better;
    const std::optional<FourPixels> a = four_pixels(better.fit, *places, better.fit.radial),
                                    b = four_pixels(worse.fit, *places, better.fit.radial);
    if (!a || !b) return better;
    const double square_a = better.sigma_m * better.sigma_m, square_b = worse.sigma_m * worse.sigma_m;
    if (!(square_a + square_b > 0.0) || !std::isfinite(square_a + square_b)) return better;
    const double share = square_b / (square_a + square_b);
    const Spread information_a = share * inverse_of(a->spread),
                 information_b = (1.0 - share) * inverse_of(b->spread);
    FourPixels both;
    both.spread = inverse_of(information_a + information_b);
    both.at = both.spread * (information_a * a->at + information_b * b->at);
    const std::optional<RinkFit> fit = fit_through(both, *places, better.fit);
    if (!fit) return better;

    CarriedFrame blend = better;
    blend.fit = *fit;
    blend.sigma_m = sigma_in_sight(*fit);
    if (contradict(better, worse)) blend.state = CarryState::unsure;
    return blend;
}

} // namespace ropeline
