#include "film/picture_memory.h"

#include <algorithm>
#include <array>
#include <mutex>
#include <new>
#include <sys/mman.h>
#include <utility>
#include <vector>

namespace ropeline {

namespace {

constexpr std::size_t row_start = 64;

std::size_t rounded_up(std::size_t bytes, std::size_t unit) {
    return (bytes + unit - 1) / unit * unit;
}

} // namespace

namespace {

/// Fresh memory from the system, in large pages as far as they fit: small ones are dear to hand out by the
/// thousand.
void* map(std::size_t bytes) {
    constexpr std::size_t large_page = std::size_t{2} << 20;
    const std::size_t spare = bytes >= large_page ? large_page : 0;
    void* memory = mmap(nullptr, bytes + spare, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    if (memory == MAP_FAILED) return nullptr;
    if (spare == 0) return memory;
    auto* const start = static_cast<std::uint8_t*>(memory);
    const std::size_t before =
        (large_page - reinterpret_cast<std::uintptr_t>(start) % large_page) % large_page;
    if (before > 0) munmap(start, before);
    if (before < spare) munmap(start + before + bytes, spare - before);
    madvise(start + before, bytes, MADV_HUGEPAGE); // a wish: without it all works, more slowly
    return start + before;
}

} // namespace

// Buffers of one size that wait for their next picture. Shared with every buffer in use, which returns here.
struct PictureMemory::Spare {
    std::mutex mutex;
    const std::size_t most;
    std::size_t bytes = 0;
    std::vector<void*> waiting;

    explicit Spare(std::size_t most_waiting) : most(most_waiting) {
        waiting.reserve(most); // the decoder gives back from C code: nothing may throw there
    }
    ~Spare() { release_all(); }
    Spare(const Spare&) = delete;
    Spare& operator=(const Spare&) = delete;

    void release_all() {
        for (void* memory : waiting)
            munmap(memory, bytes);
        waiting.clear();
    }

    /// Unpacked pictures have a little less around them than the decoder's; either can lie where the other lay.
    std::pair<void*, std::size_t> take(std::size_t wanted) {
        const std::lock_guard lock(mutex);
        const bool suits = wanted <= bytes && bytes - wanted <= bytes / 8;
        if (!suits) {
            release_all();
            bytes = wanted;
        }
        if (waiting.empty()) return {map(bytes), bytes};
        void* memory = waiting.back();
        waiting.pop_back();
        return {memory, bytes};
    }

    void give_back(void* memory, std::size_t size) {
        {
            const std::lock_guard lock(mutex);
            if (size == bytes && waiting.size() < most) {
                waiting.push_back(memory);
                return;
            }
        }
        munmap(memory, size);
    }
};

namespace {

/// As libavcodec lays its own pictures out: rows and planes aligned for its vector code.
int lay_out(AVCodecContext* codec, AVFrame* frame, int flags) {
    const auto format = static_cast<AVPixelFormat>(frame->format);
    const AVPixFmtDescriptor* about = av_pix_fmt_desc_get(format);
    const auto special = AV_PIX_FMT_FLAG_PAL | AV_PIX_FMT_FLAG_HWACCEL;
    if (!about || (about->flags & special) != 0 || !(codec->codec->capabilities & AV_CODEC_CAP_DR1)) {
        return avcodec_default_get_buffer2(codec, frame, flags);
    }
    int width = frame->width, height = frame->height;
    std::array<int, AV_NUM_DATA_POINTERS> alignment{};
    avcodec_align_dimensions2(codec, &width, &height, alignment.data());
    std::array<int, 4> strides{};
    for (bool aligned = false; !aligned; width += width & -width) {
        if (av_image_fill_linesizes(strides.data(), format, width) < 0) return AVERROR(EINVAL);
        aligned = true;
        for (std::size_t i = 0; i < strides.size(); ++i) {
            aligned = aligned && strides[i] % std::max<int>(row_start, alignment[i]) == 0;
        }
    }
    std::array<std::ptrdiff_t, 4> wide{};
    std::copy(strides.begin(), strides.end(), wide.begin());
    std::array<std::size_t, 4> sizes{};
    if (av_image_fill_plane_sizes(sizes.data(), format, height, wide.data()) < 0) return AVERROR(EINVAL);
    // Vector code may write a little past the end of a plane.
    for (std::size_t& size : sizes)
        size = size > 0 ? rounded_up(size + 2 * row_start, row_start) : 0;

    frame->buf[0] =
        static_cast<PictureMemory*>(codec->opaque)->get(sizes[0] + sizes[1] + sizes[2] + sizes[3]);
    if (!frame->buf[0]) return AVERROR(ENOMEM);
    std::uint8_t* at = frame->buf[0]->data;
    for (std::size_t i = 0; i < sizes.size() && sizes[i] > 0; ++i) {
        frame->data[i] = at;
        frame->linesize[i] = strides[i];
        at += sizes[i];
    }
    frame->extended_data = frame->data;
    return 0;
}

} // namespace

PictureMemory::PictureMemory(std::size_t most_spare) : spare_(std::make_shared<Spare>(most_spare)) {}

AVBufferRef* PictureMemory::get(std::size_t bytes) {
    struct Lent {
        std::shared_ptr<Spare> owner;
        std::size_t bytes;
    };
    constexpr std::size_t page = 4096;
    // Called from the decoder's C code, which no exception may cross.
    std::unique_ptr<Lent> lent(new (std::nothrow) Lent{spare_, 0});
    if (!lent) return nullptr;
    const auto [memory, whole] = spare_->take(rounded_up(bytes, page));
    if (!memory) return nullptr;
    lent->bytes = whole;
    const auto release = [](void* opaque, std::uint8_t* data) {
        const std::unique_ptr<Lent> returned(static_cast<Lent*>(opaque));
        returned->owner->give_back(data, returned->bytes);
    };
    AVBufferRef* buffer = av_buffer_create(static_cast<std::uint8_t*>(memory), whole, release, lent.get(), 0);
    if (buffer) {
        lent.release();
    } else {
        spare_->give_back(memory, whole);
    }
    return buffer;
}

void PictureMemory::serve(AVCodecContext& codec) {
    codec.opaque = this;
    codec.get_buffer2 = lay_out;
#if FF_API_THREAD_SAFE_CALLBACKS
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wdeprecated-declarations"
    codec.thread_safe_callbacks = 1; // later libraries take it for granted
#pragma GCC diagnostic pop
#endif
}

} // namespace ropeline
