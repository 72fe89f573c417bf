// Plain plane-to-plane algebra: matrices, normalisation and the linear start of a fit.
#pragma once

#include "camera/image_point.h"
#include "camera/rink_fit.h"
#include "rink/ice_point.h"

#include <Eigen/Core>
#include <Eigen/Geometry>

#include <span>

namespace ropeline {

Eigen::Matrix3d to_eigen(const Matrix3& numbers);
Matrix3 from_eigen(const Eigen::Matrix3d& matrix);

/// Similarity that moves the points' middle to the origin and their mean distance to sqrt(2).
/// Source  Hartley, In defence of the eight-point algorithm, PAMI 19 (1997) 580.
Eigen::Matrix3d normaliser(std::span<const Eigen::Vector2d> points);

struct LinearFit {
    Eigen::Matrix3d target_from_source;
    double conditioning =
        0.0; ///< eighth singular value over the first: near 0 when the pairs do not fix the matrix
};

/// Direct linear transform of N >= 4 pairs that are already normalised; unit Frobenius norm, sign
/// undetermined.
/// Source  Hartley & Zisserman, Multiple View Geometry, 2nd ed., Algorithm 4.2.
LinearFit direct_linear_transform(std::span<const Eigen::Vector2d> source,
                                  std::span<const Eigen::Vector2d> target);

} // namespace ropeline
