// How strongly a picture speaks for a camera.
#pragma once

#include "camera/net_frame.h"
#include "camera/paint_search.h"

#include <vector>

namespace ropeline {

struct PaintEvidence {
    int found = 0, expected = 0; ///< stretches of line wide enough to be seen
    double share = 0.0;          ///< of them that lie closely on paint
    double sigmas = 0.0;         ///< by which that is more than chance gives, or thereabouts
};

PaintEvidence evidence_for(const TurningCamera& camera, const std::vector<PaintSample>& samples,
                           const PictureView& picture);

/// The same with the net's frame: close up it shows more than the paint does, and a view of the other end, painted
/// alike, would have a net where the picture has none.
PaintEvidence with_net(const PaintEvidence& paint, const NetLook& net);

} // namespace ropeline
