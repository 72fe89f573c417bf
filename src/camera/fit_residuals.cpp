#include "camera/fit_residuals.h"

#include <ceres/jet.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {
namespace {

using Jet10 = ceres::Jet<double, 10>;

double value_of(double number) {
    return number;
}

double value_of(const Jet10& number) {
    return number.a;
}

/// Distance across the curve in pixels, and the unit vector across it in the picture.
template <class T>
struct Across {
    T distance_px, by_x, by_y;
};

/// Written once for numbers and for automatic derivatives, in scalars: expressions of matrices of derivatives
/// take a compiler minutes. `m`: image_from_ice row by row.
template <class T>
bool across(const std::array<T, 9>& m, const Lens& lens, const T& radial, const CurveTerm& term,
            Across<T>& result) {
    using std::sqrt;
    const Eigen::Vector2d bent_offset = (term.pixel - lens.middle_px) / lens.half_diagonal_px;
    const T stretch = 1.0 + radial * bent_offset.squaredNorm();
    if (!(stretch > T(0.0))) return false;
    const T shrink = 1.0 / stretch;
    const T straight_x = lens.middle_px.x() + bent_offset.x() * lens.half_diagonal_px * shrink;
    const T straight_y = lens.middle_px.y() + bent_offset.y() * lens.half_diagonal_px * shrink;

    // The inverse up to a factor, without dividing. The camera stands above the ice, so the determinant is
    // negative and the adjugate turns all signs.
    const auto minor = [&m](std::size_t a, std::size_t b, std::size_t c, std::size_t d) {
        return m[c] * m[d] - m[a] * m[b];
    };
    const std::array<T, 9> back{minor(4, 8, 5, 7), minor(2, 7, 1, 8), minor(1, 5, 2, 4),
                                minor(5, 6, 3, 8), minor(0, 8, 2, 6), minor(2, 3, 0, 5),
                                minor(3, 7, 4, 6), minor(1, 6, 0, 7), minor(0, 4, 1, 3)};
    const T depth = back[6] * straight_x + back[7] * straight_y + back[8];
    if (!(depth > T(0.0))) return false;
    const T per_depth = 1.0 / depth;
    const T x = (back[0] * straight_x + back[1] * straight_y + back[2]) * per_depth;
    const T y = (back[3] * straight_x + back[4] * straight_y + back[5]) * per_depth;

    const CurvePiece& piece = nearest_piece(*term.curve, {value_of(x), value_of(y)});
    T by_x, by_y, distance_m; // slope of the distance on the ice
    if (piece.radius_m > 0.0) {
        const T from_x = x - piece.centre.x_m, from_y = y - piece.centre.y_m;
        const T far = sqrt(from_x * from_x + from_y * from_y);
        if (!(far > T(0.0))) return false;
        distance_m = far - piece.radius_m;
        by_x = from_x / far;
        by_y = from_y / far;
    } else {
        const IcePoint along = (piece.to - piece.from) * (1.0 / length(piece.to - piece.from));
        by_x = T(-along.y_m);
        by_y = T(along.x_m);
        distance_m = along.x_m * (y - piece.from.y_m) - along.y_m * (x - piece.from.x_m);
    }
    // By the straightened pixel, then by the film's through the lens.
    const T by_straight_x = (by_x * (back[0] - x * back[6]) + by_y * (back[3] - y * back[6])) * per_depth;
    const T by_straight_y = (by_x * (back[1] - x * back[7]) + by_y * (back[4] - y * back[7])) * per_depth;
    const T along_offset = (by_straight_x * bent_offset.x() + by_straight_y * bent_offset.y()) * radial *
                           (-2.0 * shrink * shrink);
    result.by_x = by_straight_x * shrink + along_offset * bent_offset.x();
    result.by_y = by_straight_y * shrink + along_offset * bent_offset.y();
    const T steepness = sqrt(result.by_x * result.by_x + result.by_y * result.by_y);
    result.by_x = result.by_x / steepness;
    result.by_y = result.by_y / steepness;
    result.distance_px = distance_m / steepness;
    return true;
}

} // namespace

bool across_curve(const RowMatrix3& image_from_ice, const Lens& lens, double radial, const CurveTerm& term,
                  Eigen::Vector2d& offset, double& distance_px) {
    std::array<double, 9> numbers;
    std::copy_n(image_from_ice.data(), 9, numbers.begin());
    Across<double> result;
    if (!across(numbers, lens, radial, term, result)) return false;
    distance_px = result.distance_px;
    offset = distance_px * Eigen::Vector2d{result.by_x, result.by_y};
    return true;
}

bool across_curve(const RowMatrix3& image_from_ice, const Lens& lens, double radial, const CurveTerm& term,
                  double& distance_px, Eigen::Matrix<double, 1, 10>& slope) {
    std::array<Jet10, 9> numbers;
    for (int i = 0; i < 9; ++i)
        numbers[static_cast<std::size_t>(i)] = Jet10(image_from_ice.data()[i], i);
    Across<Jet10> result;
    if (!across(numbers, lens, Jet10(radial, 9), term, result)) return false;
    distance_px = result.distance_px.a;
    slope = result.distance_px.v.transpose();
    return true;
}

} // namespace ropeline
