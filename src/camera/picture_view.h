// A colour picture as plain bytes, owned by somebody else.
#pragma once

#include <cstdint>

namespace ropeline {

/// Packed 8-bit RGB, upright, square pixels.
struct PictureView {
    const std::uint8_t* rgb = nullptr;
    int width_px = 0, height_px = 0;
    int stride_bytes = 0;

    const std::uint8_t* pixel(int x, int y) const { return rgb + y * stride_bytes + 3 * x; }
};

} // namespace ropeline
