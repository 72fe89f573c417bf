#include "film/film_facts.h"

#include <array>
#include <cmath>
#include <cstring>
#include <filesystem>

#include "film/fingerprint.h"
#include "film/source.h"

namespace ropeline {

namespace {

int rotation_of(const AVStream& stream) {
    const std::uint8_t* matrix = av_stream_get_side_data(&stream, AV_PKT_DATA_DISPLAYMATRIX, nullptr);
    if (!matrix) return 0;
    std::array<std::int32_t, 9> numbers{};
    std::memcpy(numbers.data(), matrix, sizeof numbers);
    const double clockwise = -av_display_rotation_get(numbers.data());
    if (!std::isfinite(clockwise)) return 0;
    return static_cast<int>(std::lround(clockwise / 90.0) * 90 % 360 + 360) % 360;
}

ColourMatrix matrix_of(const AVCodecParameters& codec) {
    switch (codec.color_space) {
    case AVCOL_SPC_BT709:
        return ColourMatrix::bt709;
    case AVCOL_SPC_BT2020_NCL:
    case AVCOL_SPC_BT2020_CL:
        return ColourMatrix::bt2020;
    case AVCOL_SPC_BT470BG:
    case AVCOL_SPC_SMPTE170M:
    case AVCOL_SPC_FCC:
        return ColourMatrix::bt601;
    default:
        return codec.height >= 720 ? ColourMatrix::bt709 : ColourMatrix::bt601; // common practice, no source
    }
}

} // namespace

FilmFacts facts_of(const Source& source) {
    const AVStream& stream = source.stream();
    const AVCodecParameters& codec = *stream.codecpar;
    FilmFacts facts;
    facts.path = source.path();
    facts.container = source.input().iformat->name;
    facts.codec = avcodec_get_name(codec.codec_id);
    const char* format = av_get_pix_fmt_name(static_cast<AVPixelFormat>(codec.format));
    facts.pixel_format = format ? format : "unknown";
    facts.width_px = codec.width;
    facts.height_px = codec.height;
    const AVRational aspect =
        av_guess_sample_aspect_ratio(&source.input(), source.input().streams[stream.index], nullptr);
    if (aspect.num > 0 && aspect.den > 0) {
        facts.sample_aspect_numerator = aspect.num;
        facts.sample_aspect_denominator = aspect.den;
    }
    facts.rotation_degrees = rotation_of(stream);
    // Square pixels: the finer direction keeps its samples, the other is stretched.
    double width = codec.width, height = codec.height;
    const double shape = static_cast<double>(facts.sample_aspect_numerator) / facts.sample_aspect_denominator;
    (shape >= 1.0 ? width : height) *= shape >= 1.0 ? shape : 1.0 / shape;
    if (facts.rotation_degrees % 180 != 0) std::swap(width, height);
    facts.shown_width_px = static_cast<int>(std::lround(width));
    facts.shown_height_px = static_cast<int>(std::lround(height));
    facts.time_base = {stream.time_base.num, stream.time_base.den};
    facts.average_rate_hz = stream.avg_frame_rate.den > 0 ? av_q2d(stream.avg_frame_rate) : 0.0;
    facts.matrix = matrix_of(codec);
    facts.full_range = codec.color_range == AVCOL_RANGE_JPEG || facts.pixel_format.starts_with("yuvj");
    facts.interlaced = codec.field_order != AV_FIELD_UNKNOWN && codec.field_order != AV_FIELD_PROGRESSIVE;
    facts.top_field_first = codec.field_order != AV_FIELD_BB && codec.field_order != AV_FIELD_BT;
    facts.picture_streams = 0;
    for (unsigned i = 0; i < source.input().nb_streams; ++i) {
        if (is_picture_stream(*source.input().streams[i])) ++facts.picture_streams;
        if (source.input().streams[i]->codecpar->codec_type == AVMEDIA_TYPE_AUDIO) facts.has_sound = true;
    }
    std::error_code ignored;
    facts.file_bytes = std::filesystem::file_size(source.path(), ignored);
    facts.fingerprint = film_fingerprint(source.path());
    return facts;
}

std::string film_library() {
    const unsigned version = avformat_version();
    return "libavformat " + std::to_string(AV_VERSION_MAJOR(version)) + "." +
           std::to_string(AV_VERSION_MINOR(version)) + "." + std::to_string(AV_VERSION_MICRO(version));
}

} // namespace ropeline
