// The camera model in one place, for numbers and for automatic derivatives alike.
#pragma once

#include "camera/image_point.h"

#include <Eigen/Core>
#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>

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

template <class T>
using Vector2 = Eigen::Matrix<T, 2, 1>;
template <class T>
using RowMatrix3 = Eigen::Matrix<T, 3, 3, Eigen::RowMajor>;

/// Pixel of the film -> pixel of the straightened picture.
template <class T>
Vector2<T> straightened(const Lens& lens, const T& radial, const Vector2<T>& pixel) {
    const Vector2<T> offset = (pixel - lens.middle_px.cast<T>()) / T(lens.half_diagonal_px);
    return lens.middle_px.cast<T>() +
           offset * (T(lens.half_diagonal_px) / (T(1.0) + radial * offset.squaredNorm()));
}

/// Straightened pixel -> pixel of the film: the root of the division model that tends to 1 as `radial` tends
/// to 0. False where the lens cannot see (outside the circle that a pincushion lens folds at).
template <class T>
bool bent(const Lens& lens, const T& radial, const Vector2<T>& straight, Vector2<T>& pixel) {
    using std::sqrt;
    const Vector2<T> offset = straight - lens.middle_px.cast<T>();
    const T root =
        T(1.0) - T(4.0) * radial * offset.squaredNorm() / T(lens.half_diagonal_px * lens.half_diagonal_px);
    if (!(root > T(0.0))) return false;
    pixel = lens.middle_px.cast<T>() + offset * (T(2.0) / (T(1.0) + sqrt(root)));
    return true;
}

/// Ice -> pixel; false behind the camera or where the lens cannot see.
template <class T>
bool project(const RowMatrix3<T>& image_from_ice, const Lens& lens, const T& radial, const Vector2<T>& ice,
             Vector2<T>& pixel) {
    const Eigen::Matrix<T, 3, 1> seen = image_from_ice * ice.homogeneous();
    if (!(seen.z() > T(0.0))) return false;
    return bent<T>(lens, radial, Vector2<T>(seen.template head<2>() / seen.z()), pixel);
}

} // namespace ropeline
