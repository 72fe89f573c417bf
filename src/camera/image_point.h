// A place in a picture. (0, 0) is the outer corner of the top-left pixel of the displayed frame (after
// rotation, with square pixels), y down; pixels.
#pragma once

namespace ropeline {

struct ImagePoint {
    double x_px = 0.0;
    double y_px = 0.0;

    friend constexpr bool operator==(const ImagePoint&, const ImagePoint&) = default;
};

struct ImageSize {
    int width_px = 0;
    int height_px = 0;

    friend constexpr bool operator==(const ImageSize&, const ImageSize&) = default;
};

} // namespace ropeline
