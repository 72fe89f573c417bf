// The camera model in one place: lens, projection and how a pixel moves with what is below or before it.
#pragma once

#include "camera/image_point.h"

#include <Eigen/Core>
#include <Eigen/Geometry>

#include <algorithm>

namespace ropeline {

/// Middle and half diagonal of a picture: the frame in which `radial` is a plain number.
struct Lens {
    Eigen::Vector2d middle_px;
    double half_diagonal_px = 1.0;
};

inline Lens lens_of(ImageSize image) {
    const Eigen::Vector2d half{image.width_px / 2.0, image.height_px / 2.0};
    return {half, std::max(half.norm(), 1.0)}; // a fit without lens may not know its picture
}

using RowMatrix3 = Eigen::Matrix<double, 3, 3, Eigen::RowMajor>;

/// Pixel of the film -> pixel of the straightened picture (division model).
Eigen::Vector2d straightened(const Lens& lens, double radial, const Eigen::Vector2d& pixel);

/// Straightened pixel -> pixel of the film: the root of the division model that tends to 1 as `radial` tends
/// to 0. False where the lens cannot see (outside the circle that a pincushion lens folds at).
bool bent(const Lens& lens, double radial, const Eigen::Vector2d& straight, Eigen::Vector2d& pixel);

/// Ice -> pixel; false behind the camera or where the lens cannot see.
bool project(const RowMatrix3& image_from_ice, const Lens& lens, double radial, const Eigen::Vector2d& ice,
             Eigen::Vector2d& pixel);

/// How a pixel of the film moves with its straightened pixel.
Eigen::Matrix2d pixel_by_straight(const Lens& lens, double radial, const Eigen::Vector2d& pixel);

/// How a straightened pixel moves with the nine numbers of the matrix, row by row.
Eigen::Matrix<double, 2, 9> straight_by_numbers(const Eigen::Matrix3d& image_from_ice,
                                                const Eigen::Vector2d& ice);

/// Slopes of the pixel of `ice` by the ice position (2x2) and by a fit's ten numbers (2x10): the matrix row by
/// row, then `radial`.
struct PixelSlopes {
    Eigen::Matrix2d by_ice;
    Eigen::Matrix<double, 2, 10> by_fit;
};

/// `pixel` is where `ice` projects to, or so near as a mark is to its place.
PixelSlopes pixel_slopes(const RowMatrix3& image_from_ice, const Lens& lens, double radial,
                         const Eigen::Vector2d& ice, const Eigen::Vector2d& pixel);

} // namespace ropeline
