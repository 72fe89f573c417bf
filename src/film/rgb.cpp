#include "film/rgb.h"

#include <algorithm>
#include <cstdint>
#include <utility>

#include "film/film_error.h"
#include "film/picture_format.h"

namespace ropeline {

namespace {

// Clockwise, in quarter turns.
RgbPicture turned(RgbPicture from, int degrees) {
    if (degrees == 0) return from;
    const bool swaps = degrees % 180 != 0;
    RgbPicture to{swaps ? from.height_px : from.width_px, swaps ? from.width_px : from.height_px, {}};
    to.bytes.resize(from.bytes.size());
    for (int y = 0; y < to.height_px; ++y) {
        for (int x = 0; x < to.width_px; ++x) {
            int from_x = to.width_px - 1 - x, from_y = to.height_px - 1 - y; // 180
            if (degrees == 90) from_x = y, from_y = from.height_px - 1 - x;
            if (degrees == 270) from_x = from.width_px - 1 - y, from_y = x;
            const auto source = (static_cast<std::size_t>(from_y) * static_cast<std::size_t>(from.width_px) +
                                 static_cast<std::size_t>(from_x)) *
                                3;
            const auto target = (static_cast<std::size_t>(y) * static_cast<std::size_t>(to.width_px) +
                                 static_cast<std::size_t>(x)) *
                                3;
            for (std::size_t c = 0; c < 3; ++c)
                to.bytes[target + c] = from.bytes[source + c];
        }
    }
    return to;
}

/// One conversion in the film's own colours: `flags` are the library's (SWS_...).
void convert(const Picture& picture, const FilmFacts& facts, AVPixelFormat wanted, int width_px,
             int height_px, int flags, std::uint8_t* to, std::size_t row_bytes) {
    thread_local av::Scaler kept;
    SwsContext* const scaler = av::scaler(kept, picture.width_px(), picture.height_px(), format_of(picture),
                                          width_px, height_px, wanted, flags);
    if (!scaler)
        throw FilmError(FilmFault::not_film, "this film's picture cannot be converted to the size asked for");
    if (picture.layout() != Picture::Layout::packed_rgb) {
        const int* matrix = sws_getCoefficients(space_of(facts.matrix));
        sws_setColorspaceDetails(scaler, matrix, facts.full_range ? 1 : 0, matrix, 1, 0, 1 << 16, 1 << 16);
    }
    const std::uint8_t* source[4] = {};
    int strides[4] = {};
    for (std::size_t i = 0; i < picture.planes().size() && i < 3; ++i) {
        source[i] = picture.planes()[i].bytes;
        strides[i] = picture.planes()[i].stride_bytes;
    }
    std::uint8_t* target[] = {to};
    const int stride[] = {static_cast<int>(row_bytes)};
    sws_scale(scaler, source, strides, 0, picture.height_px(), target, stride);
}

constexpr std::size_t past_a_row = 64; // the library writes whole vectors

RgbPicture scaled(const Picture& picture, const FilmFacts& facts, int width_px, int height_px, int flags) {
    if (facts.rotation_degrees % 180 != 0) std::swap(width_px, height_px);
    RgbPicture rgb{width_px, height_px, {}};
    const auto row = static_cast<std::size_t>(width_px) * 3;
    const auto size = row * static_cast<std::size_t>(height_px);
    rgb.bytes.resize(size + past_a_row);
    convert(picture, facts, AV_PIX_FMT_RGB24, width_px, height_px, flags, rgb.bytes.data(), row);
    rgb.bytes.resize(size);
    return turned(std::move(rgb), facts.rotation_degrees);
}

} // namespace

RgbPicture rgb_of(const Picture& picture, const FilmFacts& facts, int width_px, int height_px) {
    if (width_px <= 0 || height_px <= 0) width_px = facts.shown_width_px, height_px = facts.shown_height_px;
    return scaled(picture, facts, width_px, height_px, SWS_BICUBIC | SWS_ACCURATE_RND | SWS_FULL_CHR_H_INT);
}

RgbPicture small_rgb_of(const Picture& picture, const FilmFacts& facts, int width_px) {
    const std::int64_t tall = std::int64_t{facts.shown_height_px} * width_px;
    const std::int64_t height_px = (tall + facts.shown_width_px / 2) / std::max(1, facts.shown_width_px);
    const std::int64_t tallest_px = 4 * std::int64_t{width_px};
    return scaled(picture, facts, width_px,
                  static_cast<int>(std::clamp(height_px, std::int64_t{1}, tallest_px)), SWS_AREA);
}

void quick_rgba_of(const Picture& picture, const FilmFacts& facts, std::vector<std::uint8_t>& rgba) {
    const auto row = static_cast<std::size_t>(picture.width_px()) * 4;
    rgba.resize(row * static_cast<std::size_t>(picture.height_px()) + past_a_row);
    convert(picture, facts, AV_PIX_FMT_RGBA, picture.width_px(), picture.height_px(), SWS_POINT, rgba.data(),
            row);
}

} // namespace ropeline
