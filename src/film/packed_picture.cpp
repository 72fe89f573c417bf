#include "film/packed_picture.h"

#include <algorithm>

#include "film/packed_plane.h"
#include "film/picture_memory.h"

namespace ropeline {

namespace {

constexpr int row_unit = 64; // unpacking writes whole runs of samples

// Unpacked pictures are let go and made again all the time; fresh memory would cost more than the unpacking.
std::shared_ptr<std::uint8_t> reused_memory(std::size_t bytes) {
    static PictureMemory memory;
    AVBufferRef* buffer = memory.get(bytes);
    if (!buffer) throw std::bad_alloc{};
    return {buffer->data, [buffer](std::uint8_t*) mutable { av_buffer_unref(&buffer); }};
}

int row_bytes(int width) {
    return (width + row_unit - 1) / row_unit * row_unit;
}

bool same_shape(const Picture& a, const Picture& b) {
    return a.layout() == b.layout() && a.bits() == b.bits() &&
           std::equal(a.planes().begin(), a.planes().end(), b.planes().begin(), b.planes().end(),
                      [](const Picture::Plane& p, const Picture::Plane& q) {
                          return p.width == q.width && p.height == q.height;
                      });
}

PlaneView view(const Picture* picture, std::size_t plane) {
    if (!picture) return {};
    return {picture->planes()[plane].bytes, picture->planes()[plane].stride_bytes};
}

} // namespace

PackedPtr pack(const Picture& picture, const Picture* next) {
    if (picture.bits() > 8 || picture.converted()) return nullptr;
    if (next && !same_shape(picture, *next)) next = nullptr;
    thread_local std::vector<std::uint8_t> scratch;
    scratch.clear();
    auto result = std::make_shared<PackedPicture>();
    for (std::size_t i = 0; i < picture.planes().size(); ++i) {
        const Picture::Plane& plane = picture.planes()[i];
        pack_plane(view(&picture, i), view(next, i), plane.width, plane.height, scratch);
        result->shapes.push_back({nullptr, row_bytes(plane.width), plane.width, plane.height});
    }
    result->layout = picture.layout();
    result->leans_on_next = next != nullptr;
    result->bits = picture.bits();
    result->width_px = picture.width_px();
    result->height_px = picture.height_px();
    result->pts = picture.pts();
    result->packed.assign(scratch.begin(), scratch.end());
    return result;
}

PicturePtr unpack(const PackedPicture& packed, const Picture* next) {
    std::size_t bytes = 0;
    for (const auto& shape : packed.shapes) {
        bytes += static_cast<std::size_t>(shape.stride_bytes) * static_cast<std::size_t>(shape.height);
    }
    const auto memory = reused_memory(bytes);
    std::vector<Picture::Plane> planes = packed.shapes;
    std::span<const std::uint8_t> rest(packed.packed);
    std::uint8_t* to = memory.get();
    for (std::size_t i = 0; i < planes.size(); ++i) {
        Picture::Plane& plane = planes[i];
        rest = unpack_plane(rest, view(packed.leans_on_next ? next : nullptr, i), to, plane.stride_bytes,
                            plane.width, plane.height);
        plane.bytes = to;
        to += static_cast<std::size_t>(plane.stride_bytes) * static_cast<std::size_t>(plane.height);
    }
    return std::make_shared<const Picture>(memory, packed.layout, std::move(planes), packed.bits,
                                           packed.width_px, packed.height_px, bytes, packed.pts);
}

} // namespace ropeline
