#include "film/packed_picture.h"

#include <algorithm>
#include <future>
#include <utility>

#include "film/packed_plane.h"
#include "film/picture_memory.h"

namespace ropeline {

namespace {

constexpr int row_unit = 64; // unpacking writes whole runs of samples

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

/// Planes are packed in halves, so that two threads can unpack them.
struct Half {
    int first, rows;
};

Half half_of(int height, std::size_t half) {
    const int upper = height / 2;
    return half == 0 ? Half{0, upper} : Half{upper, height - upper};
}

PlaneView view(const Picture* picture, std::size_t plane, int first_row) {
    if (!picture) return {};
    const Picture::Plane& all = picture->planes()[plane];
    return {all.bytes + first_row * all.stride_bytes, all.stride_bytes};
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
        for (const std::size_t which : {0, 1}) {
            const Half half = half_of(plane.height, which);
            result->starts.push_back(used);
            used = pack_plane(view(&picture, i, half.first), view(next, i, half.first), plane.width,
                              half.rows, scratch, used);
        }
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

PicturePtr unpack(const PackedPicture& packed, const Picture* next, PictureMemory& memory) {
    std::size_t bytes = 0;
    for (const auto& shape : packed.shapes) {
        bytes += static_cast<std::size_t>(shape.stride_bytes) * static_cast<std::size_t>(shape.height);
    }
    AVBufferRef* buffer = memory.get(bytes);
    if (!buffer) throw std::bad_alloc{};
    const std::shared_ptr<std::uint8_t> samples{
        buffer->data, [buffer](std::uint8_t*) mutable { av_buffer_unref(&buffer); }};
    std::vector<Picture::Plane> planes = packed.shapes;
    std::uint8_t* to = samples.get();
    for (Picture::Plane& plane : planes) {
        plane.bytes = std::exchange(to, to + static_cast<std::ptrdiff_t>(plane.stride_bytes) * plane.height);
    }
    const auto unpack_halves = [&](std::size_t which) {
        for (std::size_t i = 0; i < planes.size(); ++i) {
            const Picture::Plane& plane = planes[i];
            const Half half = half_of(plane.height, which);
            unpack_plane(packed.packed.data() + packed.starts[2 * i + which],
                         view(packed.leans_on_next ? next : nullptr, i, half.first),
                         samples.get() + (plane.bytes - samples.get()) + half.first * plane.stride_bytes,
                         plane.stride_bytes, plane.width, half.rows);
        }
    };
    constexpr std::size_t large = std::size_t{1} << 20; // above this a second thread is worth its start
    std::future<void> lower;
    if (bytes > large) lower = std::async(std::launch::async, unpack_halves, 1);
    unpack_halves(0);
    if (lower.valid()) {
        lower.get();
    } else {
        unpack_halves(1);
    }
    return std::make_shared<const Picture>(samples, packed.layout, std::move(planes), packed.bits,
                                           packed.width_px, packed.height_px, buffer->size, packed.pts);
}

} // namespace ropeline
