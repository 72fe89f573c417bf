// Finding painted lines in a picture near where a camera puts them.
#pragma once

#include "camera/picture_view.h"
#include "camera/turning_camera.h"
#include "rink/paint.h"

#include <vector>

namespace ropeline {

/// A short stretch of painted line: its middle, and the unit direction along it.
struct PaintSample {
    Eigen::Vector2d at;
    Eigen::Vector2d along;
    double width_m = 0.0;
    bool blue = false; ///< else red
};

/// Samples of all painted lines of the rink, about `spacing_m` apart.
std::vector<PaintSample> paint_samples(const RuleBook& rules, double spacing_m = 0.4);

struct PaintMatch {
    const PaintSample* sample = nullptr;
    Eigen::Vector2d across;   ///< unit normal of the line in the picture
    double off_px = 0.0;      ///< where the line was found, along `across`, from where the camera puts it
    double painters_px = 0.0; ///< how far painters may have laid it off the rule book
};

struct PaintLook {
    std::vector<PaintMatch> found;
    int expected = 0; ///< samples that should be in sight
};

/// Looks for each sample within `reach_px` to both sides of its place. At most `most` samples, spread evenly.
PaintLook look_for_paint(const TurningCamera& camera, const std::vector<PaintSample>& samples,
                         const PictureView& picture, double reach_px, int most = 400);

struct PaintUpdate {
    CameraBelief belief;
    double rms_px = 0.0; ///< of the lines that agree
    int agreed = 0, expected = 0;
    CameraStep moved = CameraStep::Zero(); ///< from what was believed before
};

/// The belief after what the paint says: robust Gauss-Newton on distances across the lines, the old belief as
/// prior, starting so far from it as `start` says.
PaintUpdate update_by_paint(const CameraBelief& before, const std::vector<PaintSample>& samples,
                            const PictureView& picture, double reach_px,
                            const CameraStep& start = CameraStep::Zero());

/// The same for a camera that only clicks are known of: from several lenses, since clicks say little of the
/// lens, and until it stays.
/// Out     of these what meets the paint best.
PaintUpdate settle_on_paint(const CameraBelief& before, const std::vector<PaintSample>& samples,
                            const PictureView& picture, double reach_px);

/// Mean squared pixels over the stretches that should be in sight; one that is not there counts as two pixels off.
double misfit(const PaintUpdate& paint);

} // namespace ropeline
