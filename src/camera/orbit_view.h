// A camera told by what it looks at: moving it about that place changes the picture little by little, where moving
// the camera by itself would lose what it shows.
#pragma once

#include "camera/paint_directions.h"
#include "camera/paint_search.h"
#include "camera/turning_camera.h"

#include <vector>

namespace ropeline {

struct OrbitView {
    Eigen::Vector2d aim = Eigen::Vector2d::Zero(); ///< where the optical axis meets the ice
    double azimuth_rad = 0.0;   ///< of the camera as seen from there, from up-ice (+y) towards +x
    double elevation_rad = 0.5; ///< of the same
    double log_distance = 3.0;  ///< of metres
    double log_px_per_m = 4.0;  ///< at the aim
    double roll_rad = 0.0;
};

TurningCamera camera_of(const OrbitView& view, ImageSize image);

/// In      a level camera whose axis meets the ice.
OrbitView orbit_view_of(const TurningCamera& camera);

/// Sigmas, or thereabouts, by which the camera's paint lies nearer to the picture's lines than by chance.
/// In      samples so far apart.
double likeness(const TurningCamera& camera, const std::vector<PaintSample>& samples, double spacing_m,
                const LineMap& lines);

struct Climbed {
    OrbitView view;
    double likeness = 0.0;
};

/// Uphill in all seven numbers, in steps of the picture that shrink from `step_px` to `least_px`.
Climbed climbed(const OrbitView& from, ImageSize image, const std::vector<PaintSample>& samples,
                double spacing_m, const LineMap& lines, double step_px, double least_px);

} // namespace ropeline
