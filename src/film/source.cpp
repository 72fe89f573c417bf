#include "film/source.h"

#include <algorithm>
#include <string_view>

#include "film/film_error.h"
#include "film/film_file.h"

namespace ropeline {

Source::Source(const std::string& path, int stream) : path_(path), wished_stream_(stream) {
    open();
}

void Source::open() {
    input_ = open_film_file(path_);
    AVFormatContext* const raw = input_.get();
    avformat_find_stream_info(raw, nullptr);

    int chosen = -1;
    if (wished_stream_ >= 0) {
        int seen = 0;
        for (unsigned i = 0; i < raw->nb_streams; ++i) {
            if (is_picture_stream(*raw->streams[i]) && seen++ == wished_stream_) chosen = static_cast<int>(i);
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

bool is_picture_stream(const AVStream& stream) {
    return stream.codecpar->codec_type == AVMEDIA_TYPE_VIDEO &&
           !(stream.disposition & AV_DISPOSITION_ATTACHED_PIC);
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
    constexpr std::int64_t longest = std::int64_t{1} << 32; // four seconds in the finest time base films have
    return std::clamp<std::int64_t>(av_rescale_q(1, av_inv_q(rate), one.time_base), 1, longest);
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

} // namespace ropeline
