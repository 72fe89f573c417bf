// What a test knows of a filmed camera: its place and lens as a fit elsewhere in the film would tell them, and how
// far off a fit is over what a picture shows.
#pragma once

#include "camera/turning_camera.h"
#include "demo/pinhole.h"

namespace ropeline {

/// The truth as a turning camera.
TurningCamera turning_camera(const demo::PinholeCamera& camera);

/// Place known to 0.1 m, lens to 0.01, both drawn at random off the truth.
CameraBelief known_camera(const demo::PinholeCamera& camera, unsigned seed, double place_sigma_m = 0.1);

/// Worst error near the net where the picture shows it, else in the middle of the lower picture.
double error_in_view_m(const RinkFit& fit, const demo::PinholeCamera& camera);

} // namespace ropeline
