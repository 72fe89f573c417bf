#include "camera/projection.h"

#include <Eigen/LU>

#include <cmath>

namespace ropeline {

Eigen::Vector2d straightened(const Lens& lens, double radial, const Eigen::Vector2d& pixel) {
    const Eigen::Vector2d offset = (pixel - lens.middle_px) / lens.half_diagonal_px;
    return lens.middle_px + offset * (lens.half_diagonal_px / (1.0 + radial * offset.squaredNorm()));
}

bool bent(const Lens& lens, double radial, const Eigen::Vector2d& straight, Eigen::Vector2d& pixel) {
    const Eigen::Vector2d offset = straight - lens.middle_px;
    const double root =
        1.0 - 4.0 * radial * offset.squaredNorm() / (lens.half_diagonal_px * lens.half_diagonal_px);
    if (!(root > 0.0)) return false;
    pixel = lens.middle_px + offset * (2.0 / (1.0 + std::sqrt(root)));
    return true;
}

bool project(const RowMatrix3& image_from_ice, const Lens& lens, double radial, const Eigen::Vector2d& ice,
             Eigen::Vector2d& pixel) {
    const Eigen::Vector3d seen = image_from_ice * ice.homogeneous();
    if (!(seen.z() > 0.0)) return false;
    return bent(lens, radial, seen.hnormalized(), pixel);
}

// Division model: straight = s(pixel), so the slope of the pixel is the inverse of the slope of s.
Eigen::Matrix2d pixel_by_straight(const Lens& lens, double radial, const Eigen::Vector2d& pixel) {
    const Eigen::Vector2d offset = (pixel - lens.middle_px) / lens.half_diagonal_px;
    const double stretch = 1.0 + radial * offset.squaredNorm();
    const Eigen::Matrix2d straight_by_pixel =
        Eigen::Matrix2d::Identity() / stretch -
        (2.0 * radial / (stretch * stretch)) * offset * offset.transpose();
    return straight_by_pixel.inverse();
}

Eigen::Matrix<double, 2, 9> straight_by_numbers(const Eigen::Matrix3d& image_from_ice,
                                                const Eigen::Vector2d& ice) {
    const Eigen::Vector3d from = ice.homogeneous();
    const Eigen::Vector3d seen = image_from_ice * from;
    const Eigen::RowVector3d near = from.transpose() / seen.z();
    Eigen::Matrix<double, 2, 9> slope = Eigen::Matrix<double, 2, 9>::Zero();
    slope.block<1, 3>(0, 0) = slope.block<1, 3>(1, 3) = near;
    slope.rightCols<3>() = -seen.hnormalized() * near;
    return slope;
}

PixelSlopes pixel_slopes(const RowMatrix3& image_from_ice, const Lens& lens, double radial,
                         const Eigen::Vector2d& ice, const Eigen::Vector2d& pixel) {
    const Eigen::Vector3d seen = image_from_ice * ice.homogeneous();
    const Eigen::Matrix2d bend = pixel_by_straight(lens, radial, pixel);
    const Eigen::Vector2d offset = (pixel - lens.middle_px) / lens.half_diagonal_px;
    const double squared = offset.squaredNorm();
    const double stretch = 1.0 + radial * squared;

    PixelSlopes slopes;
    slopes.by_ice =
        bend *
        (image_from_ice.topLeftCorner<2, 2>() - seen.hnormalized() * image_from_ice.block<1, 2>(2, 0)) /
        seen.z();
    slopes.by_fit.leftCols<9>() = bend * straight_by_numbers(image_from_ice, ice);
    slopes.by_fit.col(9) = bend * offset * (lens.half_diagonal_px * squared / (stretch * stretch));
    return slopes;
}

} // namespace ropeline
