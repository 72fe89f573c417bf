#include "depth/uncertainty.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

namespace ropeline {

double depth_sigma_m(const Stance& stance, IcePoint puck, std::span<const double> joint_covariance) {
    const IcePoint u = puck_line(puck);
    const double far = length(puck);
    const IcePoint by_puck =
        far > 0.0 ? (stance.goalie - u * dot(stance.goalie, u)) * (1.0 / far) : IcePoint{};
    std::vector<double> slope;
    if (stance.skates) {
        slope = {u.x_m / 2.0, u.y_m / 2.0, u.x_m / 2.0, u.y_m / 2.0, by_puck.x_m, by_puck.y_m};
    } else {
        slope = {u.x_m, u.y_m, by_puck.x_m, by_puck.y_m};
    }
    const std::size_t size = slope.size();
    if (joint_covariance.size() != size * size) {
        throw std::invalid_argument("depth_sigma_m: the joint covariance does not match the stance's marks");
    }
    double variance = 0.0;
    for (std::size_t row = 0; row < size; ++row) {
        for (std::size_t column = 0; column < size; ++column) {
            variance += slope[row] * slope[column] * joint_covariance[row * size + column];
        }
    }
    return std::sqrt(std::max(variance, 0.0));
}

} // namespace ropeline
