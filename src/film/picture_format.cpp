#include "film/picture_format.h"

#include "film/film_error.h"

namespace ropeline {

AVPixelFormat format_of(const Picture& picture) {
    const auto planes = picture.planes();
    const int bits = picture.bits();
    const auto narrower = [&](int full, int part) {
        return part < full ? (part * 2 <= full + 1 && part * 2 >= full ? 1 : 2) : 0;
    };
    switch (picture.layout()) {
    case Picture::Layout::packed_rgb:
        return AV_PIX_FMT_RGB24;
    case Picture::Layout::semi_planar_yuv:
        return planes[1].height < planes[0].height     ? AV_PIX_FMT_NV12
               : planes[1].width > planes[0].width + 1 ? AV_PIX_FMT_NV24
                                                       : AV_PIX_FMT_NV16;
    case Picture::Layout::grey:
    case Picture::Layout::planar_yuv:
        break;
    }
    const bool grey = picture.layout() == Picture::Layout::grey;
    const int across = grey ? 0 : narrower(planes[0].width, planes[1].width);
    const int down = grey ? 0 : narrower(planes[0].height, planes[1].height);
    const auto no = AV_PIX_FMT_FLAG_BE | AV_PIX_FMT_FLAG_PAL | AV_PIX_FMT_FLAG_RGB | AV_PIX_FMT_FLAG_FLOAT |
                    AV_PIX_FMT_FLAG_BITSTREAM | AV_PIX_FMT_FLAG_HWACCEL | AV_PIX_FMT_FLAG_ALPHA;
    for (const AVPixFmtDescriptor* about = nullptr; (about = av_pix_fmt_desc_next(about)) != nullptr;) {
        if ((about->flags & no) != 0 || about->comp[0].depth != bits || about->comp[0].shift != 0) continue;
        if (about->nb_components != (grey ? 1 : 3)) continue;
        if (!grey && (!(about->flags & AV_PIX_FMT_FLAG_PLANAR) || about->log2_chroma_w != across ||
                      about->log2_chroma_h != down)) {
            continue;
        }
        const AVPixelFormat format = av_pix_fmt_desc_get_id(about);
        if (!grey && av_pix_fmt_count_planes(format) != 3) continue;
        return format;
    }
    throw FilmError(FilmFault::not_film,
                    "this film's pixel format cannot be converted; convert the film to MP4");
}

int space_of(ColourMatrix matrix) {
    switch (matrix) {
    case ColourMatrix::bt601:
        return SWS_CS_ITU601;
    case ColourMatrix::bt709:
        return SWS_CS_ITU709;
    case ColourMatrix::bt2020:
        return SWS_CS_BT2020;
    }
    return SWS_CS_DEFAULT;
}

} // namespace ropeline
