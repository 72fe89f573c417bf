// A camera that turns, tilts and zooms about a place: eight numbers, of which
// four, its place and its lens, stay put through a film. Square pixels, the
// optical axis through the middle of the picture.
#pragma once

#include "camera/projection.h"
#include "camera/rink_fit.h"

#include <Eigen/Core>

#include <optional>

namespace ropeline {

/// Steps: three of rotation (radians, in the camera), one of log focal length,
/// three of place (metres), one of the lens' radial term.
using CameraStep = Eigen::Matrix<double, 8, 1>;
using CameraSpread = Eigen::Matrix<double, 8, 8>;

struct TurningCamera {
    Eigen::Matrix3d camera_from_world = Eigen::Matrix3d::Identity(); ///< rows: right, down, ahead
    double focal_px = 1.0;
    Eigen::Vector3d place_m = Eigen::Vector3d::Zero(); ///< height above the ice is z
    double radial = 0.0;
    ImageSize image;
};

/// Numbers and their joint covariance in steps.
struct CameraBelief {
    TurningCamera camera;
    CameraSpread spread = CameraSpread::Zero();
};

TurningCamera moved(const TurningCamera& camera, const CameraStep& step);

/// Axes of a camera that looks along `ahead` with a level picture: rows right, down, ahead.
Eigen::Matrix3d level_axes(const Eigen::Vector3d& ahead);

/// Of the straightened picture.
Eigen::Matrix3d image_from_ice_of(const TurningCamera& camera);

/// Pixel of a place on the ice; false behind the camera.
bool project(const TurningCamera& camera, const Eigen::Vector2d& ice, Eigen::Vector2d& pixel);

/// How that pixel moves with a small step.
Eigen::Matrix<double, 2, 8> pixel_by_step(const TurningCamera& camera, const Eigen::Vector2d& ice,
                                          const Eigen::Vector2d& pixel);

/// The turning camera nearest to a fit within the fit's own error, with what is
/// left of that error. A fit without a lens says nothing of the lens: it may be
/// bent as film cameras' are.
/// Out     nothing when the fit is no picture of such a camera: residual above `most_px` and beyond five of the fit's
///         own sigmas.
std::optional<CameraBelief> turning_camera_of(const RinkFit& fit, double most_px = 4.0);

/// The fit that this camera is, with covariance; residuals and warnings empty.
RinkFit fit_of(const CameraBelief& belief);

} // namespace ropeline
