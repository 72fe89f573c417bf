// A camera that turns, tilts and zooms about a place: seven numbers instead of a homography's eight, of which
// three, the place, stay put through a film. Square pixels, the optical axis through the middle of the
// picture.
#pragma once

#include "camera/projection.h"
#include "camera/rink_fit.h"

#include <Eigen/Core>
#include <ceres/rotation.h>

#include <optional>

namespace ropeline {

/// Steps: three of rotation (radians, in the camera), one of log focal length, three of place (metres).
using CameraStep = Eigen::Matrix<double, 7, 1>;
using CameraSpread = Eigen::Matrix<double, 7, 7>;

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

/// Pixel of a place on the ice after a step; false behind the camera. Written once for numbers and
/// derivatives.
template <class T>
bool project_step(const TurningCamera& camera, const T* step, const Eigen::Vector2d& ice, Vector2<T>& pixel) {
    using std::exp;
    const T from_place[3]{T(ice.x() - camera.place_m.x()) - step[4],
                          T(ice.y() - camera.place_m.y()) - step[5], T(-camera.place_m.z()) - step[6]};
    T before[3], seen[3];
    for (int row = 0; row < 3; ++row) {
        before[row] = camera.camera_from_world(row, 0) * from_place[0] +
                      camera.camera_from_world(row, 1) * from_place[1] +
                      camera.camera_from_world(row, 2) * from_place[2];
    }
    ceres::AngleAxisRotatePoint(step, before, seen);
    if (!(seen[2] > T(0.1))) return false;
    const Lens lens = lens_of(camera.image);
    const T focal = T(camera.focal_px) * exp(step[3]);
    const Vector2<T> straight(T(lens.middle_px.x()) + focal * seen[0] / seen[2],
                              T(lens.middle_px.y()) + focal * seen[1] / seen[2]);
    return bent<T>(lens, T(camera.radial), straight, pixel);
}

/// The turning camera nearest to a fit within the fit's own error, with what is left of that error.
/// Out     nothing when the fit is no picture of such a camera: residual above `most_px` and beyond five of the fit's
///         own sigmas.
std::optional<CameraBelief> turning_camera_of(const RinkFit& fit, double most_px = 4.0);

/// The fit that this camera is, with covariance; residuals and warnings empty.
RinkFit fit_of(const CameraBelief& belief);

} // namespace ropeline
