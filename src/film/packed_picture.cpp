#include "film/packed_picture.h"

#include <algorithm>
#include <future>
#include <utility>

#include "film/packed_plane.h"
#include "film/picture_memory.h"

namespace ropeline {

namespace {

constexpr int row_unit = 64; // unpacking writes whole runs of samples

// Unpacked pictures are let go and made again all the time; fresh memory would cost more than the unpacking.
std::shared_ptr<std::uint8_t> reused_memory(std::size_t bytes) {
    static PictureMemory memory(1);
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
    std::size_t used = 0;
    auto result = std::make_shared<PackedPicture>();
    for (std::size_t i = 0; i < picture.planes().size(); ++i) {
        const Picture::Plane& plane = picture.planes()[i];
        result->starts.push_back(used);
        used = pack_plane(view(&picture, i), view(next, i), plane.width, plane.height, scratch, used);
        result->shapes.push_back({nullptr, row_bytes(plane.width), plane.width, plane.height});
    }
    result->layout = picture.layout();
    result->leans_on_next = next != nullptr;
    result->bits = picture.bits();
    result->width_px = picture.width_px();
    result->height_px = picture.height_px();
    result->pts = picture.pts();
    result->packed.assign(scratch.begin(), scratch.begin() + static_cast<std::ptrdiff_t>(used));
    return result;
}

PicturePtr unpack(const PackedPicture& packed, const Picture* next) {
    std::size_t bytes = 0;
    for (const auto& shape : packed.shapes) {
        bytes += static_cast<std::size_t>(shape.stride_bytes) * static_cast<std::size_t>(shape.height);
    }
    const auto memory = reused_memory(bytes);
    std::vector<Picture::Plane> planes = packed.shapes;
    std::uint8_t* to = memory.get();
    for (Picture::Plane& plane : planes) {
        plane.bytes = std::exchange(to, to + static_cast<std::ptrdiff_t>(plane.stride_bytes) * plane.height);
    }
    const auto unpack_planes = [&](std::size_t first, std::size_t end) {
        for (std::size_t i = first; i < end; ++i) {
            const Picture::Plane& plane = planes[i];
            unpack_plane(
                packed.packed.data() + packed.starts[i], view(packed.leans_on_next ? next : nullptr, i),
                memory.get() + (plane.bytes - memory.get()), plane.stride_bytes, plane.width, plane.height);
        }
    };
    constexpr std::size_t large = std::size_t{4} << 20; // above this a second thread is worth its start
    std::future<void> colour;
    if (bytes > large) colour = std::async(std::launch::async, [&] { unpack_planes(1, planes.size()); });
    unpack_planes(0, bytes > large ? 1 : planes.size());
    if (colour.valid()) colour.get();
    return std::make_shared<const Picture>(memory, packed.layout, std::move(planes), packed.bits,
                                           packed.width_px, packed.height_px, bytes, packed.pts);
}

} // namespace ropeline
