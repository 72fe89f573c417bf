// Lossless and quick packing of decoded planes: differences to the row above or to the same place in a
// neighbouring picture, whichever is smaller, stored with as many bits as each run of samples needs. Decoded
// film is smooth and stands still in most places, so pictures shrink to a third and less in less time than
// they took to decode. Pure functions; samples of one byte.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace ropeline {

struct PlaneView {
    const std::uint8_t* bytes = nullptr; ///< null: there is none
    std::ptrdiff_t stride = 0;
};

/// Packs the plane behind the first `used` bytes and returns how many are used then; what `packed` held
/// beyond is of no account, so that it can be used again without being cleared. `neighbour`: the same plane
/// of a picture that will be at hand when this one is unpacked.
std::size_t pack_plane(PlaneView plane, PlaneView neighbour, int width, int height,
                       std::vector<std::uint8_t>& packed, std::size_t used);

/// Unpacks into rows of `stride` bytes, `stride` >= `width` rounded up to 64.
void unpack_plane(const std::uint8_t* packed, PlaneView neighbour, std::uint8_t* bytes, std::ptrdiff_t stride,
                  int width, int height);

} // namespace ropeline
