// Finding painted lines in a picture near where a camera puts them.
#pragma once

#include "camera/picture_view.h"
#include "camera/turning_camera.h"
#include "rink/paint.h"

#include <cstddef>
#include <vector>

namespace ropeline {

/// A short stretch of painted line: its middle, and the unit direction along it.
struct PaintSample {
    Eigen::Vector2d at;
    Eigen::Vector2d along;
    double width_m = 0.0;
    bool blue = false;    ///< else red
    std::size_t line = 0; ///< of which painted line of the rink
};

/// Samples of all painted lines of the rink, about `spacing_m` apart.
std::vector<PaintSample> paint_samples(const RuleBook& rules, double spacing_m = 0.4);

struct PaintMatch {
    const PaintSample* sample = nullptr;
    Eigen::Vector2d across; ///< unit normal of the line in the picture
    double off_px = 0.0;    ///< where the line was found, along `across`, from where the camera puts it
    double px_per_m =
        0.0; ///< that a line lies along `across` for each metre that it was laid aside, to its left
};

struct PaintLook {
    std::vector<PaintMatch> found;
    int expected = 0; ///< samples that should be in sight
};

/// Looks for each sample within `reach_px` to both sides of its place. At most `most` samples, spread evenly.
PaintLook look_for_paint(const TurningCamera& camera, const std::vector<PaintSample>& samples,
                         const PictureView& picture, double reach_px, int most = 400);

} // namespace ropeline
