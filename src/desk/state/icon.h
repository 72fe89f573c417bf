// The desk's own sign: a crease from above, and the two ropes from the posts to the puck.
#pragma once

#include <cstdint>
#include <vector>

namespace ropeline {

/// In      width and height in pixels
/// Out     red, green, blue, opacity of each pixel, row by row from the top
std::vector<std::uint8_t> icon_rgba(int size_px);

} // namespace ropeline
