// The least-squares core of a rink fit: no checks, no messages, only numbers.
#pragma once

#include "camera/image_point.h"
#include "rink/ice_point.h"

#include <Eigen/Core>

#include <optional>
#include <span>
#include <vector>

namespace ropeline {

struct PointPair {
    Eigen::Vector2d pixel;
    Eigen::Vector2d ice;
};

/// Numbers of a solved fit. Covariances are for a click sigma of one pixel and leave out the scale of the
/// matrix.
struct SolvedFit {
    Eigen::Matrix3d image_from_ice; ///< third coordinate positive in front of the camera; last number 1 or -1
    double radial = 0.0;
    std::vector<Eigen::Vector2d> residuals;        ///< pixel minus projection
    double squared_error = 0.0;                    ///< sum over both axes of all clicks, pixels squared
    int freedom = 0;                               ///< residual numbers less parameters
    Eigen::Matrix<double, 10, 10> unit_covariance; ///< of the nine numbers row by row, then `radial`
};

/// Linear start, then Levenberg-Marquardt on pixel residuals.
/// In      N >= 4 pairs, pixels and metres.
/// Out     nothing when the pairs do not fix a camera that sees all of them from above the ice.
std::optional<SolvedFit> solve_fit(std::span<const PointPair> pairs, ImageSize image);

} // namespace ropeline
