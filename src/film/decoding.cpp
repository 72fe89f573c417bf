#include "film/decoding.h"

#include <algorithm>
#include <thread>

#include "film/film_error.h"
#include "film/native_picture.h"

namespace ropeline {

av::Codec open_decoder(const Source& source, int threads, int reorder, PictureMemory& memory) {
    const AVStream& stream = source.stream();
    const AVCodec* decoder = avcodec_find_decoder(stream.codecpar->codec_id);
    if (!decoder)
        throw FilmError(FilmFault::not_film, source.path() + " has a codec that cannot be decoded here");
    auto codec = av::make_codec(decoder);
    avcodec_parameters_to_context(codec.get(), stream.codecpar);
    codec->pkt_timebase = stream.time_base;
    codec->thread_count =
        threads > 0 ? threads : static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1u, 8u));
    codec->has_b_frames = std::max(codec->has_b_frames, std::min(reorder, 16));
    codec->flags |=
        AV_CODEC_FLAG_UNALIGNED; // crop at the left to the sample, not to where vector code likes it
    memory.serve(*codec);
    const int code = avcodec_open2(codec.get(), decoder, nullptr);
    if (code < 0) {
        throw FilmError(FilmFault::not_film,
                        "the pictures of " + source.path() + " cannot be decoded: " + av::error_text(code));
    }
    return codec;
}

Decoding::Decoding(Source source, std::shared_ptr<const FilmIndex> index, int threads)
    : index_(std::move(index)), source_(std::move(source)),
      codec_(open_decoder(source_, threads, index_->reorder, *memory_)) {}

bool Decoding::leads_to(FrameIndex frame) const {
    if (next_ < 0 || ended_ || number(frame) <= last_out_ || frame < needed_) return false;
    // Pictures that lean on what comes before the place decoding began at do not come out right, or at all.
    const std::int32_t entry = index_->entry_of_frame[static_cast<std::size_t>(number(frame))];
    return begun_ <= entry && entry <= next_;
}

std::optional<std::int32_t> Decoding::place_of(const AVPacket& packet, std::int32_t not_after) const {
    if (by_position_.empty()) {
        for (std::size_t i = 0; i < index_->packets.size(); ++i) {
            by_position_.emplace_back(index_->packets[i].position, static_cast<std::int32_t>(i));
        }
        std::sort(by_position_.begin(), by_position_.end());
    }
    if (packet.pos < 0) return {};
    std::optional<std::int32_t> found;
    auto candidate =
        std::lower_bound(by_position_.begin(), by_position_.end(), std::pair{packet.pos, std::int32_t{-1}});
    for (; candidate != by_position_.end() && candidate->first == packet.pos; ++candidate) {
        const PacketNote& note = index_->packets[static_cast<std::size_t>(candidate->second)];
        if (note.size != packet.size) continue;
        // An edit list may show the same bytes twice: the decoding time then tells which it is.
        const bool same_time = note.dts == packet.dts;
        if (!found || same_time || candidate->second <= not_after) found = candidate->second;
        if (same_time) break;
    }
    return found;
}

bool Decoding::read_next() {
    if (!held_ && !source_.read(*packet_)) return false;
    held_ = false;
    const auto& notes = index_->packets;
    if (read_at_ >= static_cast<std::int32_t>(notes.size()) ||
        notes[static_cast<std::size_t>(read_at_)].size != packet_->size) {
        av_packet_unref(packet_.get());
        throw FilmError(FilmFault::damaged,
                        source_.path() + " changed on disk while it was open; open it again");
    }
    ++read_at_;
    return true;
}

void Decoding::drop_held() {
    if (held_) av_packet_unref(packet_.get());
    held_ = false;
}

// Leaves the source so that `packet` is read next.
bool Decoding::reach(std::int32_t packet) {
    constexpr std::int32_t worth_reading_through = 32;
    const auto read_through = [&] {
        while (read_at_ < packet) {
            if (!read_next()) return false;
            av_packet_unref(packet_.get());
        }
        return true;
    };
    if (read_at_ >= 0 && read_at_ <= packet && packet - read_at_ <= worth_reading_through)
        return read_through();

    drop_held();
    // The demuxer may land anywhere: look where it did, and when it overshot aim further ahead of the packet.
    std::int32_t aim = packet;
    for (std::int32_t back = 1; back <= 64; back *= 2) {
        if (source_.jump(index_->packets[static_cast<std::size_t>(aim)])) {
            for (int tries = 0; tries < 24 && source_.read(*packet_); ++tries) {
                const auto place = place_of(*packet_, packet);
                if (place && *place <= packet) {
                    read_at_ = *place;
                    held_ = true;
                    return read_through();
                }
                av_packet_unref(packet_.get());
                if (place) break;
            }
        }
        aim = std::max(0, packet - back);
    }
    source_.rewind();
    read_at_ = 0;
    return read_through();
}

void Decoding::begin_at(std::int32_t entry, FrameIndex needed) {
    avcodec_flush_buffers(codec_.get());
    next_ = -1;
    ended_ = false;
    last_out_ = -1;
    needed_ = needed;
    if (!reach(entry)) {
        read_at_ = -1;
        throw FilmError(FilmFault::damaged,
                        source_.path() +
                            " cannot be read at this place; copy it again from the camera or card");
    }
    next_ = begun_ = entry;
}

void Decoding::receive(const Sink& sink) {
    constexpr int most_failures = 64;
    for (int failures = 0;;) {
        const int code = avcodec_receive_frame(codec_.get(), frame_.get());
        if (code == AVERROR(EAGAIN)) return;
        if (code == AVERROR_EOF || (code < 0 && ++failures > most_failures)) {
            ended_ = true;
            return;
        }
        if (code < 0) continue; // damage in one picture; the others still come
        ++decoded_;
        const std::int64_t packet = frame_->pts; // the decoder carries the packet's number as its time
        if (packet < 0 || packet >= static_cast<std::int64_t>(index_->frame_of_packet.size())) {
            av_frame_unref(frame_.get());
            continue;
        }
        const std::int32_t frame = index_->frame_of_packet[static_cast<std::size_t>(packet)];
        if (frame < 0) {
            av_frame_unref(frame_.get());
            continue;
        }
        last_out_ = std::max<std::int64_t>(last_out_, frame);
        sink(FrameIndex{frame}, picture_from(*frame_, index_->pts[static_cast<std::size_t>(frame)]));
    }
}

bool Decoding::passes_over_next() const {
    if (next_ < 0 || next_ >= static_cast<std::int32_t>(index_->frame_of_packet.size())) return false;
    const std::int32_t frame = index_->frame_of_packet[static_cast<std::size_t>(next_)];
    return frame >= 0 && FrameIndex{frame} < needed_;
}

bool Decoding::step(const Sink& sink) {
    if (ended_ || next_ < 0) return false;
    if (!read_next()) {
        finish(sink);
        return false;
    }
    const av::PacketLease lease(*packet_);
    const bool left_out = passes_over_next() && index_->packets[static_cast<std::size_t>(next_)].disposable;
    packet_->pts = next_++;
    if (left_out) return true;
    packet_->dts = AV_NOPTS_VALUE;
    for (int tries = 0; tries < 2; ++tries) {
        const int code = avcodec_send_packet(codec_.get(), packet_.get());
        receive(sink);
        if (code != AVERROR(EAGAIN)) break;
    }
    return !ended_;
}

void Decoding::finish(const Sink& sink) {
    if (ended_ || next_ < 0) return;
    avcodec_send_packet(codec_.get(), nullptr);
    while (!ended_)
        receive(sink);
    next_ = -1;
}

} // namespace ropeline
