// Every turn and zoom of a camera whose place is known, held against the lines of a picture: where it may be
// looking, from nothing.
#pragma once

#include "camera/paint_directions.h"
#include "camera/paint_search.h"
#include "camera/turning_camera.h"

#include <vector>

namespace ropeline {

/// A level or evenly rolled camera.
struct AimedView {
    double pan_rad = 0.0;  ///< of the axis, from up-ice (+y) towards +x
    double tilt_rad = 0.0; ///< downward
    double focal_px = 1.0;
    double likeness = 0.0; ///< of the paint to the picture's lines: sigmas above chance, or thereabouts
};

struct ViewReach {
    double from_focal_px = 600.0, to_focal_px = 6000.0;
    double step_px = 20.0; ///< between views that are tried, in pixels of the film
    double zoom_step = 1.07;
    std::size_t most = 40;  ///< views answered
    double spacing_m = 0.4; ///< of the samples
};

/// The camera at the place of `known`, rolled as it is, that looks so; without lens.
TurningCamera camera_of(const TurningCamera& known, const AimedView& view);
/// Its roll about its axis, radians.
double roll_of(const TurningCamera& known);

/// The views of a grid that are most like one map, best first, no two of them close.
std::vector<AimedView> swept_views(const TurningCamera& known, const std::vector<PaintSample>& samples,
                                   const LineMap& lines, const ViewReach& reach);

/// The same, settled on what they are most like.
std::vector<AimedView> likely_views(const TurningCamera& known, const std::vector<PaintSample>& samples,
                                    const LineMaps& lines, const ViewReach& reach);

} // namespace ropeline
