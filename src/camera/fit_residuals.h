// What a click on a painted curve contributes to a fit.
#pragma once

#include "camera/fit_solve.h"
#include "camera/projection.h"

namespace ropeline {

/// Offset in pixels from the curve to a click, across the curve: distance on the ice over how fast it grows
/// per pixel. False where the pixel lies at or above the horizon.
bool across_curve(const RowMatrix3& image_from_ice, const Lens& lens, double radial, const CurveTerm& term,
                  Eigen::Vector2d& offset, double& distance_px);

/// The distance alone, with its slope by the fit's ten numbers: the matrix row by row, then `radial`.
bool across_curve(const RowMatrix3& image_from_ice, const Lens& lens, double radial, const CurveTerm& term,
                  double& distance_px, Eigen::Matrix<double, 1, 10>& slope);

} // namespace ropeline
