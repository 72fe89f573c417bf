#include "film/native_picture.h"

#include <algorithm>
#include <array>
#include <optional>

#include "film/film_error.h"

namespace ropeline {

namespace {

using Planes = std::vector<Picture::Plane>;

int sample_bytes(const AVPixFmtDescriptor& about) {
    return about.comp[0].depth > 8 ? 2 : 1;
}

Planes native_planes(const AVFrame& frame, const AVPixFmtDescriptor& about) {
    const auto format = static_cast<AVPixelFormat>(frame.format);
    const int bytes = sample_bytes(about);
    Planes planes;
    for (int i = 0; i < av_pix_fmt_count_planes(format); ++i) {
        const bool chroma = (i == 1 || i == 2) && !(about.flags & AV_PIX_FMT_FLAG_RGB);
        const int height = chroma ? AV_CEIL_RSHIFT(frame.height, about.log2_chroma_h) : frame.height;
        const int row_bytes = av_image_get_linesize(format, frame.width, i);
        planes.push_back({frame.data[i], frame.linesize[i], row_bytes / bytes, height});
    }
    if (about.flags & AV_PIX_FMT_FLAG_PAL) planes.push_back({frame.data[1], 1024, 1024 / bytes, 1});
    return planes;
}

std::optional<Picture::Layout> layout_of(AVPixelFormat format, const AVPixFmtDescriptor& about) {
    using Layout = Picture::Layout;
    const auto no = AV_PIX_FMT_FLAG_BE | AV_PIX_FMT_FLAG_PAL | AV_PIX_FMT_FLAG_BITSTREAM |
                    AV_PIX_FMT_FLAG_FLOAT | AV_PIX_FMT_FLAG_HWACCEL | AV_PIX_FMT_FLAG_BAYER;
    if (format == AV_PIX_FMT_RGB24) return Layout::packed_rgb;
    if (format == AV_PIX_FMT_NV12 || format == AV_PIX_FMT_NV16 || format == AV_PIX_FMT_NV24)
        return Layout::semi_planar_yuv;
    if ((about.flags & (no | AV_PIX_FMT_FLAG_RGB)) != 0 || about.comp[0].shift != 0) return {};
    if (about.nb_components == 1) return Layout::grey;
    if ((about.flags & AV_PIX_FMT_FLAG_PLANAR) && av_pix_fmt_count_planes(format) >= 3)
        return Layout::planar_yuv;
    return {};
}

std::size_t memory_of(const AVFrame& frame) {
    std::size_t bytes = 0;
    for (const AVBufferRef* part : frame.buf) {
        if (part) bytes += part->size;
    }
    return bytes;
}

struct Converted {
    av::Frame native;
    std::vector<std::uint8_t> rgb;
};

} // namespace

PicturePtr picture_from(AVFrame& decoded, Pts pts) {
    auto frame = av::make_frame();
    av_frame_move_ref(frame.get(), &decoded);
    const auto format = static_cast<AVPixelFormat>(frame->format);
    const AVPixFmtDescriptor& about = *av_pix_fmt_desc_get(format);
    const int width = frame->width, height = frame->height;
    const std::size_t bytes = memory_of(*frame);
    Planes native = native_planes(*frame, about);
    if (const auto layout = layout_of(format, about)) {
        return std::make_shared<const Picture>(std::shared_ptr<const void>(std::move(frame)), *layout,
                                               std::move(native), about.comp[0].depth, width, height, bytes,
                                               pts);
    }
    auto both = std::make_shared<Converted>();
    const auto row = static_cast<std::size_t>(width) * 3;
    both->rgb.resize(row * static_cast<std::size_t>(height));
    thread_local av::Scaler kept;
    SwsContext* const scaler = av::scaler(kept, width, height, format, width, height, AV_PIX_FMT_RGB24,
                                          SWS_BILINEAR | SWS_ACCURATE_RND);
    if (!scaler)
        throw FilmError(FilmFault::not_film, "this film's pixel format cannot be shown; convert it to MP4");
    std::uint8_t* target[] = {both->rgb.data()};
    const int stride[] = {static_cast<int>(row)};
    sws_scale(scaler, frame->data, frame->linesize, 0, height, target, stride);
    both->native = std::move(frame);
    Planes shown{{both->rgb.data(), stride[0], width * 3, height}};
    const std::size_t held = bytes + both->rgb.size();
    return std::make_shared<const Picture>(std::shared_ptr<const void>(both), Picture::Layout::packed_rgb,
                                           std::move(shown), 8, width, height, held, pts,
                                           Picture::Native{std::move(native), sample_bytes(about)});
}

} // namespace ropeline
