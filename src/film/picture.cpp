#include "film/picture.h"

#include "film/av.h"

namespace ropeline {

namespace {

struct FreeHash {
    void operator()(AVMD5* owned) const noexcept { av_free(owned); }
};

} // namespace

Picture::Picture(std::shared_ptr<const void> owner, Layout layout, std::vector<Plane> planes, int bits,
                 int width_px, int height_px, std::size_t bytes, Pts pts, Native native)
    : owner_(std::move(owner)), layout_(layout), planes_(std::move(planes)), native_(std::move(native)),
      bits_(bits), width_px_(width_px), height_px_(height_px), bytes_(bytes), pts_(pts) {}

std::string Picture::md5() const {
    const auto hash = av::owned<std::unique_ptr<AVMD5, FreeHash>>(av_md5_alloc());
    av_md5_init(hash.get());
    const int sample_bytes = converted() ? native_.sample_bytes : bits_ > 8 ? 2 : 1;
    for (const Plane& plane : converted() ? native_.planes : planes_) {
        const auto row = static_cast<std::size_t>(plane.width) * static_cast<std::size_t>(sample_bytes);
        for (int y = 0; y < plane.height; ++y) {
            av_md5_update(hash.get(), plane.bytes + static_cast<std::ptrdiff_t>(y) * plane.stride_bytes, row);
        }
    }
    std::uint8_t digest[16];
    av_md5_final(hash.get(), digest);
    return av::hex(digest);
}

} // namespace ropeline
