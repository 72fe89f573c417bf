// How far a matrix is from the picture of a camera with square pixels and its axis through the middle.
#pragma once

#include "camera/projection.h"

namespace ropeline {

/// Two numbers, 0 for such a camera: how far the axes of the ice are from square to each other as it would see them,
/// and from equal length, at the focal length that makes both least; none shorter or longer than film cameras have.
/// `any_focal` puts no bound to it: where the bound holds a fit, it says nothing of how sure the fit is.
/// Source  Zhang, A flexible new technique for camera calibration, PAMI 22 (2000) 1330: the two constraints of a plane.
Eigen::Vector2d squareness(const Eigen::Matrix3d& image_from_ice, const Lens& lens, bool any_focal = false);

} // namespace ropeline
