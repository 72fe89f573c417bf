// What painted lines say of a camera that is believed to see them.
#pragma once

#include "camera/paint_search.h"

namespace ropeline {

struct PaintUpdate {
    CameraBelief belief;
    double rms_px = 0.0;     ///< of the lines that agree
    double rms_sigmas = 0.0; ///< the same in what film and painters make of a line that is met
    int agreed = 0, expected = 0;
    CameraStep moved = CameraStep::Zero(); ///< from what was believed before
};

/// The belief after what the paint says: robust Gauss-Newton on distances across the lines, the old belief as
/// prior, starting so far from it as `start` says. Each line may as a whole lie off the rule book, so that one in
/// sight says little of where it should be and more of which way it runs.
/// Source  lines taken out by the Schur complement: Triggs et al., Bundle Adjustment, 2000, 6.1; how far paint lies
///         off: measured on one broadcast rink, 3 to 7 cm.
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
