#include "camera/homography.h"

#include "camera/dense.h"

#include <cmath>

namespace ropeline {

Eigen::Matrix3d to_eigen(const Matrix3& numbers) {
    return Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>>(numbers.data());
}

Matrix3 from_eigen(const Eigen::Matrix3d& matrix) {
    Matrix3 numbers{};
    Eigen::Map<Eigen::Matrix<double, 3, 3, Eigen::RowMajor>>(numbers.data()) = matrix;
    return numbers;
}

Eigen::Matrix3d normaliser(std::span<const Eigen::Vector2d> points) {
    const double count = static_cast<double>(points.size());
    Eigen::Vector2d middle = Eigen::Vector2d::Zero();
    for (const Eigen::Vector2d& point : points)
        middle += point / count;
    double spread = 0.0;
    for (const Eigen::Vector2d& point : points)
        spread += (point - middle).norm() / count;
    const double scale = spread > 0.0 ? std::sqrt(2.0) / spread : 1.0;
    Eigen::Matrix3d similarity = Eigen::Matrix3d::Identity();
    similarity.diagonal().head<2>().setConstant(scale);
    similarity.topRightCorner<2, 1>() = -scale * middle;
    return similarity;
}

LinearFit direct_linear_transform(std::span<const Eigen::Vector2d> source,
                                  std::span<const Eigen::Vector2d> target) {
    // Nine rows at least, so that the last right singular vector is the null vector even for four pairs.
    const auto rows = static_cast<Eigen::Index>(std::max<std::size_t>(2 * source.size(), 9));
    Eigen::MatrixXd equations = Eigen::MatrixXd::Zero(rows, 9);
    for (std::size_t i = 0; i < source.size(); ++i) {
        const Eigen::RowVector3d from = source[i].homogeneous().transpose();
        const auto row = static_cast<Eigen::Index>(2 * i);
        equations.block<1, 3>(row, 0) = from;
        equations.block<1, 3>(row, 6) = -target[i].x() * from;
        equations.block<1, 3>(row + 1, 3) = from;
        equations.block<1, 3>(row + 1, 6) = -target[i].y() * from;
    }
    const RightSingular singular = right_singular(equations);
    const Eigen::Matrix<double, 9, 1> null_vector = singular.vectors.col(8);
    LinearFit fit;
    fit.target_from_source =
        Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>>(null_vector.data());
    fit.conditioning = singular.values(7) / singular.values(0);
    return fit;
}

} // namespace ropeline
