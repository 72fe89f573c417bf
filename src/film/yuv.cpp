#include "film/yuv.h"

#include "film/film_error.h"
#include "film/picture_format.h"
#include "film/rgb.h"

#include <algorithm>
#include <cmath>
#include <cstring>

namespace ropeline {
namespace {

constexpr int beyond_a_row = 64; // libswscale writes whole vectors

std::uint8_t* place_in(YuvPicture& picture, int plane, const YuvPlace& place) {
    const int part = plane == 0 ? 1 : 2;
    return picture.plane(plane) + static_cast<std::ptrdiff_t>(place.y_px / part) * picture.stride(plane) +
           place.x_px / part;
}

bool as_an_encoder_takes_it(const Picture& picture, const FilmFacts& facts, const YuvPlace& place) {
    return picture.layout() == Picture::Layout::planar_yuv && picture.bits() == 8 &&
           facts.matrix == ColourMatrix::bt709 && !facts.full_range && facts.rotation_degrees == 0 &&
           picture.width_px() == place.width_px && picture.height_px() == place.height_px &&
           picture.planes()[1].width == (place.width_px + 1) / 2 &&
           picture.planes()[1].height == (place.height_px + 1) / 2;
}

void copy_planes(const Picture& picture, const YuvPlace& place, YuvPicture& onto) {
    for (int plane = 0; plane < 3; ++plane) {
        const int part = plane == 0 ? 1 : 2;
        const Picture::Plane& from = picture.planes()[static_cast<std::size_t>(plane)];
        for (int row = 0; row < place.height_px / part; ++row)
            std::memcpy(place_in(onto, plane, place) + static_cast<std::ptrdiff_t>(row) * onto.stride(plane),
                        from.bytes + static_cast<std::ptrdiff_t>(row) * from.stride_bytes,
                        static_cast<std::size_t>(place.width_px / part));
    }
}

/// One conversion; `matrix` and `full_range` are the source's.
void convert_into(const std::uint8_t* const* source, const int* strides, int width_px, int height_px,
                  AVPixelFormat format, int space, bool full_range, const YuvPlace& place, YuvPicture& onto) {
    thread_local av::Scaler kept;
    SwsContext* const scaler = av::scaler(kept, width_px, height_px, format, place.width_px, place.height_px,
                                          AV_PIX_FMT_YUV420P, SWS_BICUBIC | SWS_ACCURATE_RND);
    if (!scaler)
        throw FilmError(FilmFault::not_film, "this film's picture cannot be converted to the size asked for");
    sws_setColorspaceDetails(scaler, sws_getCoefficients(space), full_range ? 1 : 0,
                             sws_getCoefficients(SWS_CS_ITU709), 0, 0, 1 << 16, 1 << 16);
    std::uint8_t* target[4] = {};
    int target_strides[4] = {};
    for (int plane = 0; plane < 3; ++plane) {
        target[plane] = place_in(onto, plane, place);
        target_strides[plane] = onto.stride(plane);
    }
    sws_scale(scaler, source, strides, 0, height_px, target, target_strides);
}

void put_turned(const Picture& picture, const FilmFacts& facts, const YuvPlace& place, YuvPicture& onto) {
    RgbPicture rgb = rgb_of(picture, facts, place.width_px, place.height_px);
    rgb.bytes.resize(rgb.bytes.size() + beyond_a_row);
    const std::uint8_t* source[4] = {rgb.bytes.data()};
    const int strides[4] = {3 * rgb.width_px};
    convert_into(source, strides, rgb.width_px, rgb.height_px, AV_PIX_FMT_RGB24, SWS_CS_ITU709, true, place,
                 onto);
}

int even(double value) {
    return 2 * static_cast<int>(std::lround(0.5 * value));
}

} // namespace

YuvPicture::YuvPicture(int width_px, int height_px)
    : width_px_(width_px), height_px_(height_px),
      chroma_stride_((width_px / 2 + beyond_a_row + 31) / 32 * 32) {
    for (int index = 0; index < 3; ++index) {
        const auto rows = static_cast<std::size_t>(index == 0 ? height_px : height_px / 2);
        planes_[static_cast<std::size_t>(index)].assign(
            rows * static_cast<std::size_t>(stride(index)) + beyond_a_row, index == 0 ? 16 : 128);
    }
}

YuvPlace fitted_place(const FilmFacts& facts, const YuvPlace& room) {
    const double wide = std::max(1, facts.shown_width_px), high = std::max(1, facts.shown_height_px);
    const double scale = std::min(room.width_px / wide, room.height_px / high);
    YuvPlace place{0, 0, std::clamp(even(wide * scale), 2, room.width_px),
                   std::clamp(even(high * scale), 2, room.height_px)};
    place.x_px = room.x_px + (room.width_px - place.width_px) / 4 * 2;
    place.y_px = room.y_px + (room.height_px - place.height_px) / 4 * 2;
    return place;
}

void put_picture(const Picture& picture, const FilmFacts& facts, const YuvPlace& place, YuvPicture& onto) {
    if (as_an_encoder_takes_it(picture, facts, place)) return copy_planes(picture, place, onto);
    if (facts.rotation_degrees != 0) return put_turned(picture, facts, place, onto);
    const std::uint8_t* source[4] = {};
    int strides[4] = {};
    for (std::size_t plane = 0; plane < picture.planes().size() && plane < 3; ++plane) {
        source[plane] = picture.planes()[plane].bytes;
        strides[plane] = picture.planes()[plane].stride_bytes;
    }
    const bool rgb = picture.layout() == Picture::Layout::packed_rgb;
    convert_into(source, strides, picture.width_px(), picture.height_px(), format_of(picture),
                 rgb ? SWS_CS_ITU709 : space_of(facts.matrix), rgb || facts.full_range, place, onto);
}

void put_black(const YuvPlace& place, YuvPicture& onto) {
    for (int plane = 0; plane < 3; ++plane) {
        const int part = plane == 0 ? 1 : 2;
        for (int row = 0; row < place.height_px / part; ++row)
            std::memset(place_in(onto, plane, place) + static_cast<std::ptrdiff_t>(row) * onto.stride(plane),
                        plane == 0 ? 16 : 128, static_cast<std::size_t>(place.width_px / part));
    }
}

} // namespace ropeline
