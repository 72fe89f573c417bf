#include "camera/square_pixels.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

Eigen::Vector2d squareness(const Eigen::Matrix3d& image_from_ice, const Lens& lens, bool any_focal) {
    Eigen::Matrix3d matrix = image_from_ice;
    matrix.topRows<2>() -= lens.middle_px * image_from_ice.row(2);
    const double a = matrix.col(0).head<2>().dot(matrix.col(1).head<2>()), b = matrix(2, 0) * matrix(2, 1);
    const double first = matrix.col(0).head<2>().squaredNorm(),
                 second = matrix.col(1).head<2>().squaredNorm();
    const double c = first - second, d = matrix(2, 0) * matrix(2, 0) - matrix(2, 1) * matrix(2, 1);
    const double longest = 16.0 * lens.half_diagonal_px, shortest = 0.6 * lens.half_diagonal_px;
    const double best = -(a * b + c * d) / std::max(a * a + c * c, 1e-300);
    const double inverse_square =
        any_focal ? best : std::clamp(best, 1.0 / (longest * longest), 1.0 / (shortest * shortest));
    const double length = ((first + second) * inverse_square + matrix.row(2).head<2>().squaredNorm()) / 2.0;
    return Eigen::Vector2d{a * inverse_square + b, c * inverse_square + d} / std::max(length, 1e-300);
}

} // namespace ropeline
