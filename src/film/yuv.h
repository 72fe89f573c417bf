// Pictures as an encoder takes them: 8-bit 4:2:0, BT.709 in video range.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "film/film_facts.h"
#include "film/picture.h"

namespace ropeline {

/// Rows are longer than the picture is wide: what converts pictures writes whole vectors.
class YuvPicture {
public:
    YuvPicture() = default;
    /// Black. Both sides even.
    YuvPicture(int width_px, int height_px);
    int width_px() const { return width_px_; }
    int height_px() const { return height_px_; }
    int stride(int plane) const { return plane == 0 ? 2 * chroma_stride_ : chroma_stride_; }
    std::uint8_t* plane(int index) { return planes_[static_cast<std::size_t>(index)].data(); }
    const std::uint8_t* plane(int index) const { return planes_[static_cast<std::size_t>(index)].data(); }

private:
    int width_px_ = 0, height_px_ = 0, chroma_stride_ = 0;
    std::array<std::vector<std::uint8_t>, 3> planes_; ///< Y, then blue and red difference at half the size
};

/// A place in a picture; all four even.
struct YuvPlace {
    int x_px = 0, y_px = 0, width_px = 0, height_px = 0;
};

/// Where a film of this shape lies in a place: as large as it fits, in the middle.
YuvPlace fitted_place(const FilmFacts& facts, const YuvPlace& room);

/// Puts a film's picture there, upright and scaled. A picture that is already as an encoder takes it is only copied.
void put_picture(const Picture& picture, const FilmFacts& facts, const YuvPlace& place, YuvPicture& onto);
void put_black(const YuvPlace& place, YuvPicture& onto);

} // namespace ropeline
