// Where a camera that was lost may look now: a coarse comparison with a key view.
#pragma once

#include "camera/key_views.h"

namespace ropeline {

struct Likely {
    TurningCamera camera;
    double likeness = 0.0; ///< up to 1
};

/// The camera turned and zoomed so that the middle of the frame shows what it shows in the key view, if it
/// shows it at all: good enough to look for the key view's features from there. Up to half a picture away,
/// zoom by a third.
Likely likely_camera(const KeyView& key, const cv::Mat& grey);

} // namespace ropeline
