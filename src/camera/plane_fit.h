// A fit of clicks on any plane, seen by any camera: what a rink fit is without what is known of film cameras.
#pragma once

#include "camera/rink_fit.h"

namespace ropeline {

/// As `fit_rink`, for cameras whose pixels need not be square nor their axis in the middle of the picture.
RinkFit fit_plane(const RinkClicks& clicks, ImageSize image, const FitOptions& options = {});
RinkFit fit_plane(std::span<const LandmarkClick> clicks, ImageSize image, const FitOptions& options = {});

} // namespace ropeline
