#include "film/packed_picture.h"

#include <mutex>

#include "film/av.h"
#include "film/packed_plane.h"

namespace ropeline {

namespace {

constexpr int row_unit = 64; // unpacking writes whole runs of samples

// Memory for unpacked pictures, used again: fresh memory of this size costs more than the unpacking.
class Buffers {
public:
    std::shared_ptr<std::uint8_t> get(std::size_t bytes) {
        const std::lock_guard lock(mutex_);
        if (bytes != bytes_) {
            AVBufferPool* old = pool_;
            pool_ = av_buffer_pool_init(bytes, nullptr);
            bytes_ = bytes;
            av_buffer_pool_uninit(&old);
        }
        AVBufferRef* buffer = pool_ ? av_buffer_pool_get(pool_) : nullptr;
        if (!buffer) throw std::bad_alloc{};
        return {buffer->data, [buffer](std::uint8_t*) mutable { av_buffer_unref(&buffer); }};
    }
    Buffers() = default;
    ~Buffers() { av_buffer_pool_uninit(&pool_); }
    Buffers(const Buffers&) = delete;
    Buffers& operator=(const Buffers&) = delete;

private:
    std::mutex mutex_;
    std::size_t bytes_ = 0;
    AVBufferPool* pool_ = nullptr;
};

Buffers& buffers() {
    static Buffers all;
    return all;
}

int row_bytes(int width) {
    return (width + row_unit - 1) / row_unit * row_unit;
}

} // namespace

PackedPtr pack(const Picture& picture) {
    if (picture.bits() > 8 || picture.converted()) return nullptr;
    thread_local std::vector<std::uint8_t> scratch;
    scratch.clear();
    auto result = std::make_shared<PackedPicture>();
    for (const Picture::Plane& plane : picture.planes()) {
        pack_plane(plane.bytes, plane.stride_bytes, plane.width, plane.height, scratch);
        result->shapes.push_back({nullptr, row_bytes(plane.width), plane.width, plane.height});
    }
    result->layout = picture.layout();
    result->bits = picture.bits();
    result->width_px = picture.width_px();
    result->height_px = picture.height_px();
    result->pts = picture.pts();
    result->packed.assign(scratch.begin(), scratch.end());
    return result;
}

PicturePtr unpack(const PackedPicture& packed) {
    std::size_t bytes = 0;
    for (const auto& shape : packed.shapes)
        bytes += static_cast<std::size_t>(shape.stride_bytes) * static_cast<std::size_t>(shape.height);
    const auto memory = buffers().get(bytes);
    std::vector<Picture::Plane> planes = packed.shapes;
    std::span<const std::uint8_t> rest(packed.packed);
    std::uint8_t* to = memory.get();
    for (Picture::Plane& plane : planes) {
        rest = unpack_plane(rest, to, plane.stride_bytes, plane.width, plane.height);
        plane.bytes = to;
        to += static_cast<std::size_t>(plane.stride_bytes) * static_cast<std::size_t>(plane.height);
    }
    return std::make_shared<const Picture>(memory, packed.layout, std::move(planes), packed.bits,
                                           packed.width_px, packed.height_px, bytes, packed.pts);
}

} // namespace ropeline
