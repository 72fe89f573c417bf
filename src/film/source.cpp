#include "film/source.h"

#include <array>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <string_view>

namespace ropeline {

namespace {

namespace fs = std::filesystem;

void check_file(const std::string& path) {
    std::error_code code;
    const fs::file_status status = fs::status(path, code);
    if (status.type() == fs::file_type::not_found) {
        throw FilmError(FilmFault::not_found,
                        "there is no file " + path + "; check the name, or choose where the film is now");
    }
    if (code) throw FilmError(FilmFault::unreadable, "cannot read " + path + ": " + code.message());
    if (fs::is_directory(status)) {
        throw FilmError(FilmFault::is_directory, path + " is a folder, not a film; choose a file inside it");
    }
    if (!fs::is_regular_file(status))
        throw FilmError(FilmFault::not_film, path + " is a device or pipe, not a film file");
    FILE* file = fopen(path.c_str(), "rb");
    if (!file) {
        throw FilmError(FilmFault::unreadable,
                        "cannot read " + path + ": " + std::strerror(errno) + "; check its permissions");
    }
    fclose(file);
    if (fs::file_size(path, code) == 0) {
        throw FilmError(FilmFault::empty, path + " is empty; copy the film again from the camera or card");
    }
}

// Still pictures, texts and play lists that libav would show as if they were films.
bool is_no_film(std::string_view format) {
    if (format.ends_with("_pipe")) return true;
    constexpr std::array<std::string_view, 8> others{"tty",    "image2", "hls",   "dash",
                                                     "concat", "sdp",    "lavfi", "ico"};
    return std::find(others.begin(), others.end(), format) != others.end();
}

std::string not_a_film(const std::string& path) {
    return path + " is not a film this program can read, or it was cut off before its header was written; "
                  "copy it again, or convert it to MP4";
}

bool is_film(const AVStream& stream) {
    return stream.codecpar->codec_type == AVMEDIA_TYPE_VIDEO &&
           !(stream.disposition & AV_DISPOSITION_ATTACHED_PIC);
}

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

Source::Source(const std::string& path, int stream) : path_(path), wished_stream_(stream) {
    av::hush();
    check_file(path);
    open();
}

void Source::open() {
    av::Options wishes;
    wishes.set("protocol_whitelist", "file"); // a film never makes the program fetch something else
    AVFormatContext* raw = nullptr;
    const int opened = avformat_open_input(&raw, ("file:" + path_).c_str(), nullptr, wishes.address());
    if (opened < 0) throw FilmError(FilmFault::not_film, not_a_film(path_));
    input_.reset(raw);
    if (is_no_film(raw->iformat->name)) throw FilmError(FilmFault::not_film, not_a_film(path_));
    avformat_find_stream_info(raw, nullptr);

    int chosen = -1;
    if (wished_stream_ >= 0) {
        int seen = 0;
        for (unsigned i = 0; i < raw->nb_streams; ++i) {
            if (is_film(*raw->streams[i]) && seen++ == wished_stream_) chosen = static_cast<int>(i);
        }
        if (chosen < 0) {
            throw FilmError(FilmFault::no_picture, path_ + " has " + std::to_string(seen) +
                                                       " picture streams, so there is no number " +
                                                       std::to_string(wished_stream_) + " (the first is 0)");
        }
    } else {
        chosen = av_find_best_stream(raw, AVMEDIA_TYPE_VIDEO, -1, -1, nullptr, 0);
        const bool cover = chosen >= 0 && (raw->streams[chosen]->disposition & AV_DISPOSITION_ATTACHED_PIC);
        if (chosen < 0 || cover) {
            const bool sound = av_find_best_stream(raw, AVMEDIA_TYPE_AUDIO, -1, -1, nullptr, 0) >= 0;
            throw FilmError(sound ? FilmFault::no_picture : FilmFault::not_film,
                            sound ? path_ + " has sound but no picture; choose the film, not its sound track"
                                  : not_a_film(path_));
        }
    }
    stream_ = static_cast<unsigned>(chosen);
    const AVCodecParameters& codec = *stream().codecpar;
    if (codec.width <= 0 || codec.height <= 0 || !avcodec_find_decoder(codec.codec_id)) {
        throw FilmError(FilmFault::not_film, path_ + " has a picture stream (" +
                                                 avcodec_get_name(codec.codec_id) +
                                                 ") that cannot be decoded here; convert it to MP4");
    }
    for (unsigned i = 0; i < raw->nb_streams; ++i) {
        raw->streams[i]->discard = i == stream_ ? AVDISCARD_DEFAULT : AVDISCARD_ALL;
    }
    end_code_ = 0;
}

CodecKind Source::codec_kind() const {
    const AVCodecID id = stream().codecpar->codec_id;
    switch (id) {
    case AV_CODEC_ID_H264:
        return CodecKind::h264;
    case AV_CODEC_ID_HEVC:
        return CodecKind::hevc;
    case AV_CODEC_ID_VP8:
        return CodecKind::vp8;
    case AV_CODEC_ID_VP9:
        return CodecKind::vp9;
    case AV_CODEC_ID_MPEG4:
        return CodecKind::mpeg4;
    default:
        break;
    }
    const AVCodecDescriptor* about = avcodec_descriptor_get(id);
    return about && (about->props & AV_CODEC_PROP_INTRA_ONLY) ? CodecKind::intra_only : CodecKind::other;
}

std::int64_t Source::frame_ticks() const {
    const AVStream& one = stream();
    AVRational rate = one.avg_frame_rate.num > 0 ? one.avg_frame_rate : one.r_frame_rate;
    if (rate.num <= 0 || rate.den <= 0) rate = {25, 1};
    return std::max<std::int64_t>(1, av_rescale_q(1, av_inv_q(rate), one.time_base));
}

bool Source::read(AVPacket& packet) {
    if (!given_back_.empty()) {
        av_packet_move_ref(&packet, given_back_.front().get());
        given_back_.pop_front();
        return true;
    }
    int failures = 0;
    for (;;) {
        const int code = av_read_frame(input_.get(), &packet);
        if (code >= 0) {
            if (packet.stream_index == static_cast<int>(stream_)) return true;
            av_packet_unref(&packet);
            continue;
        }
        // Some demuxers stumble over damage and go on when asked again; the end of the file is final.
        if (code == AVERROR_EOF || code == AVERROR(EAGAIN) || ++failures > 8) {
            end_code_ = code == AVERROR_EOF ? 0 : code;
            return false;
        }
    }
}

void Source::rewind() {
    given_back_.clear();
    input_.reset();
    open();
}

bool Source::jump(const PacketNote& target) {
    const AVInputFormat& format = *input_->iformat;
    const std::string_view name = format.name;
    const int index = static_cast<int>(stream_);
    end_code_ = 0;
    given_back_.clear();
    const bool by_byte =
        (format.flags & AVFMT_TS_DISCONT) != 0 || target.dts == no_time || name == "h264" || name == "hevc";
    if (by_byte) {
        if (target.position < 0 || (format.flags & AVFMT_NO_BYTE_SEEK)) return false;
        return av_seek_frame(input_.get(), index, target.position, AVSEEK_FLAG_BYTE) >= 0;
    }
    // Matroska keeps presentation times in its cues, the others decoding times.
    const bool by_pts = name.starts_with("matroska") && target.pts != no_time;
    return av_seek_frame(input_.get(), index, by_pts ? target.pts : target.dts, AVSEEK_FLAG_BACKWARD) >= 0;
}

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
        if (is_film(*source.input().streams[i])) ++facts.picture_streams;
        if (source.input().streams[i]->codecpar->codec_type == AVMEDIA_TYPE_AUDIO) facts.has_sound = true;
    }
    std::error_code ignored;
    facts.file_bytes = fs::file_size(source.path(), ignored);
    facts.fingerprint = film_fingerprint(source.path());
    return facts;
}

} // namespace ropeline
