// A frame of a film: which one it is, when, how large its picture.
#pragma once

#include "camera/rink_fit.h"

#include <cstdint>

namespace ropeline {

/// Where the film stands while an action happens.
struct FrameAt {
    std::int64_t frame = 0, pts_ticks = 0;
    double film_s = 0.0;
    ImageSize image;
};

/// Stream time of a film's first and last frame.
struct FilmSpan {
    double first_s = 0.0, last_s = 0.0;
};

inline bool in_picture(ImagePoint at, ImageSize size) {
    return at.x_px >= 0.0 && at.y_px >= 0.0 && at.x_px <= size.width_px && at.y_px <= size.height_px;
}

} // namespace ropeline
