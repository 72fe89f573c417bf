// Dark ridges on bright ice, anywhere in a picture, as distances to the
// nearest: where a camera that lost its lines looks for them again.
#pragma once

#include "camera/paint_update.h"

#include <opencv2/core.hpp>

#include <optional>
#include <vector>

namespace ropeline {

struct RidgeMap {
    cv::Mat1f away_px;  ///< to the nearest ridge, in pixels of the film; 24 where none is near
    double scale = 0.5; ///< of the map against the film
};

/// Ridges up to the width of a blue line that have ice about them; none where
/// the picture is all texture, as a crowd is.
RidgeMap ridge_map(const cv::Mat& grey);

struct WideReach {
    double turn_px = 110.0, zoom = 0.08; ///< either way
    double place_m = 0.3;                ///< beyond what is believed of it
};

/// The camera near `guess` that puts most of the rink's paint on ridges, if it puts nearly all of it there.
/// In      samples of the whole rink; `spread` what is believed of place and lens.
/// Out     nothing where less than 85 in a hundred stretches in sight lie on paint, or the best of them not
///         closely.
std::optional<PaintUpdate> search_wide(const CameraBelief& guess, const std::vector<PaintSample>& samples,
                                       const RidgeMap& ridges, const PictureView& picture,
                                       const WideReach& reach = {});

} // namespace ropeline
