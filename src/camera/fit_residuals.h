// What a click contributes to a fit, written once for numbers and for automatic derivatives.
#pragma once

#include "camera/fit_solve.h"
#include "camera/projection.h"

#include <type_traits>

namespace ropeline {

/// Inverse up to a positive or negative factor, without dividing.
template <class T>
RowMatrix3<T> adjugate(const RowMatrix3<T>& m) {
    RowMatrix3<T> a;
    a << m(1, 1) * m(2, 2) - m(1, 2) * m(2, 1), m(0, 2) * m(2, 1) - m(0, 1) * m(2, 2),
        m(0, 1) * m(1, 2) - m(0, 2) * m(1, 1), m(1, 2) * m(2, 0) - m(1, 0) * m(2, 2),
        m(0, 0) * m(2, 2) - m(0, 2) * m(2, 0), m(0, 2) * m(1, 0) - m(0, 0) * m(1, 2),
        m(1, 0) * m(2, 1) - m(1, 1) * m(2, 0), m(0, 1) * m(2, 0) - m(0, 0) * m(2, 1),
        m(0, 0) * m(1, 1) - m(0, 1) * m(1, 0);
    return a;
}

/// Offset in pixels from the curve to a click, across the curve: distance on the ice over how fast it grows
/// per pixel. False where the pixel lies at or above the horizon.
template <class T>
bool across_curve(const RowMatrix3<T>& image_from_ice, const Lens& lens, const T& radial,
                  const CurveTerm& term, Vector2<T>& offset, T& distance_px) {
    using std::sqrt;
    const Vector2<T> pixel = term.pixel.cast<T>();
    const Vector2<T> bent_offset = (pixel - lens.middle_px.cast<T>()) / T(lens.half_diagonal_px);
    const T stretch = T(1.0) + radial * bent_offset.squaredNorm();
    if (!(stretch > T(0.0))) return false;
    const Vector2<T> straight = straightened<T>(lens, radial, pixel);
    Eigen::Matrix<T, 2, 2> straight_by_pixel =
        bent_offset * bent_offset.transpose() * (T(-2.0) * radial / (stretch * stretch));
    straight_by_pixel.diagonal().array() += T(1.0) / stretch;

    // The camera stands above the ice, so its determinant is negative and the adjugate turns all signs.
    const RowMatrix3<T> ice_from_image = -adjugate(image_from_ice);
    const Eigen::Matrix<T, 3, 1> ice = ice_from_image * straight.homogeneous();
    if (!(ice.z() > T(0.0))) return false;
    const Vector2<T> at = ice.template head<2>() / ice.z();
    const Eigen::Matrix<T, 2, 2> ice_by_straight =
        (ice_from_image.template topLeftCorner<2, 2>() - at * ice_from_image.template block<1, 2>(2, 0)) /
        ice.z();

    IcePoint place;
    if constexpr (std::is_same_v<T, double>) {
        place = {at.x(), at.y()};
    } else {
        place = {at.x().a, at.y().a};
    }
    const CurvePiece& piece = nearest_piece(*term.curve, place);
    Vector2<T> by_ice; // slope of the distance on the ice
    T distance_m;
    if (piece.radius_m > 0.0) {
        const Vector2<T> from_centre = at - Vector2<T>(T(piece.centre.x_m), T(piece.centre.y_m));
        const T far = sqrt(from_centre.squaredNorm());
        if (!(far > T(0.0))) return false;
        distance_m = far - T(piece.radius_m);
        by_ice = from_centre / far;
    } else {
        const IcePoint along = (piece.to - piece.from) * (1.0 / length(piece.to - piece.from));
        by_ice = Vector2<T>(T(-along.y_m), T(along.x_m));
        distance_m = by_ice.dot(at - Vector2<T>(T(piece.from.x_m), T(piece.from.y_m)));
    }
    const Vector2<T> by_pixel = straight_by_pixel.transpose() * (ice_by_straight.transpose() * by_ice);
    const T steepness = sqrt(by_pixel.squaredNorm());
    distance_px = distance_m / steepness;
    offset = by_pixel * (distance_px / steepness);
    return true;
}

} // namespace ropeline
