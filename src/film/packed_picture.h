// A picture kept small while it waits to be shown. Only for src/film.
#pragma once

#include <memory>
#include <vector>

#include "film/film.h"

namespace ropeline {

struct PackedPicture {
    Picture::Layout layout{};
    int bits = 8, width_px = 0, height_px = 0;
    Pts pts;
    std::vector<Picture::Plane> shapes; ///< width and height of each plane; no bytes
    std::vector<std::uint8_t> packed;
};
using PackedPtr = std::shared_ptr<const PackedPicture>;

/// Null where packing is not done: pictures with samples of two bytes, and those converted for show.
PackedPtr pack(const Picture& picture);
PicturePtr unpack(const PackedPicture& packed);

} // namespace ropeline
