#include "camera/turned.h"

#include <Eigen/Core>

#include <cmath>

namespace ropeline {

namespace {

using Row9 = Eigen::Matrix<double, 9, 9, Eigen::RowMajor>;
using Row3 = Eigen::Matrix<double, 3, 3, Eigen::RowMajor>;

Row3 matrix(const Matrix3& numbers) {
    return Eigen::Map<const Row3>(numbers.data());
}
Matrix3 numbers(const Row3& matrix) {
    Matrix3 row_major{};
    Eigen::Map<Row3>(row_major.data()) = matrix;
    return row_major;
}

/// Near ice <- far ice, and its own inverse.
Row3 half_turn(const RuleBook& rules) {
    Row3 turn;
    turn << -1.0, 0.0, 0.0, 0.0, -1.0, 2.0 * rules.red_line_centre.m, 0.0, 0.0, 1.0;
    return turn;
}

} // namespace

IcePoint turned(IcePoint at, const RuleBook& rules) {
    return {-at.x_m, 2.0 * rules.red_line_centre.m - at.y_m};
}

RinkFit turned(const RinkFit& fit, const RuleBook& rules) {
    const Row3 turn = half_turn(rules);
    const Row3 composed = matrix(fit.image_from_ice) * turn;
    // The last number is 1 or -1 again, unless the camera stands exactly above the far goal line.
    const double last = composed(2, 2);
    const bool scaled = std::abs(last) > 1e-9;
    const double scale = scaled ? std::abs(last) : 1.0;

    // d(turned) / d(fit): every row times the half turn, then divided by a scale that moves along.
    Row9 change = Row9::Zero();
    for (int row = 0; row < 3; ++row)
        change.block<3, 3>(3 * row, 3 * row) = turn.transpose();
    if (scaled) {
        const Matrix3 row_major = numbers(composed);
        const Eigen::Map<const Eigen::Matrix<double, 9, 1>> all(row_major.data());
        const Eigen::Matrix<double, 1, 9> of_last = change.row(8);
        change = ((change - all * of_last / last) / scale).eval();
    }

    RinkFit other = fit;
    other.image_from_ice = numbers(composed / scale);
    other.ice_from_image = numbers(turn * matrix(fit.ice_from_image) * scale);
    Eigen::Map<Row9> covariance(other.covariance.data());
    covariance = (change * Eigen::Map<const Row9>(fit.covariance.data()) * change.transpose()).eval();
    Eigen::Map<Eigen::Matrix<double, 9, 1>> with_radial(other.radial_covariance.data());
    with_radial =
        (change * Eigen::Map<const Eigen::Matrix<double, 9, 1>>(fit.radial_covariance.data())).eval();
    return other;
}

} // namespace ropeline
