// One decoded picture: its planes in the film's own pixel format.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "film/frame_table.h"

namespace ropeline {

/// Planes of one decoded frame in its native pixel format. Immutable and shared.
class Picture {
public:
    struct Plane {
        const std::uint8_t* bytes;
        int stride_bytes, width, height; ///< width and height in samples
    };
    enum class Layout { planar_yuv, semi_planar_yuv, grey, packed_rgb };

    /// The decoder's own planes where `planes` are a conversion of them for show; else empty.
    struct Native {
        std::vector<Plane> planes;
        int sample_bytes;
    };

    Picture(std::shared_ptr<const void> owner, Layout layout, std::vector<Plane> planes, int bits,
            int width_px, int height_px, std::size_t bytes, Pts pts, Native native = {});
    Layout layout() const { return layout_; }
    std::span<const Plane> planes() const { return planes_; }
    int bits() const {
        return bits_;
    } ///< significant bits a sample; above 8 samples take two bytes, low-aligned
    int width_px() const { return width_px_; }
    int height_px() const { return height_px_; }
    std::size_t bytes() const { return bytes_; } ///< memory it holds
    Pts pts() const { return pts_; }
    bool converted() const { return !native_.planes.empty(); } ///< planes() are not the decoder's own
    /// MD5 over the raw planes in the native pixel format, rows packed, planes in order, not rotated;
    /// lower-case hex.
    std::string md5() const;

private:
    std::shared_ptr<const void> owner_;
    Layout layout_;
    std::vector<Plane> planes_;
    Native native_;
    int bits_, width_px_, height_px_;
    std::size_t bytes_;
    Pts pts_;
};
using PicturePtr = std::shared_ptr<const Picture>;

} // namespace ropeline
