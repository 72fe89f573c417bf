#include "film/sound.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "film/av.h"
#include "film/film_error.h"
#include "film/film_file.h"

extern "C" {
#include <libswresample/swresample.h>
}

namespace ropeline {

namespace {

using Resampler = std::unique_ptr<SwrContext, av::FreeByAddress<swr_free>>;

constexpr double furthest_count = 1e18; // of ticks or samples; times in a damaged file may be anything
constexpr double most_slip_s = 0.04;    // of a frame's time from where the one before it ends; more is a gap

} // namespace

struct FilmSound::Insides {
    struct Kind {
        int format = -1, rate_hz = 0, channels = 0;
        friend bool operator==(const Kind&, const Kind&) = default;
    };

    av::Input input;
    av::Codec codec;
    Resampler resampler;
    Kind kind; // what the resampler takes in
    av::Packet packet = av::make_packet();
    av::Frame frame = av::make_frame();
    int stream = -1;
    double wanted_s = 0.0;    // film time of the next sample read() gives
    double ready_s = 0.0;     // film time of the first sample in `ready`
    std::vector<float> ready; // decoded, not yet read
    std::size_t used = 0;     // of `ready`, in moments
    bool placed = false;      // ready_s is known since the last jump
    bool ended = false;
    bool drained = false; // the file has no more packets

    void open(const std::string& path);
    bool decode_more();
    void place();
    void convert();
    bool is_gap(double until_s) const;
    std::size_t waiting() const { return ready.size() / channels - used; }
    void align();
};

void FilmSound::Insides::open(const std::string& path) {
    input = open_film_file(path);
    AVFormatContext* const raw = input.get();
    avformat_find_stream_info(raw, nullptr);
    stream = av_find_best_stream(raw, AVMEDIA_TYPE_AUDIO, -1, -1, nullptr, 0);
    const AVCodec* decoder =
        stream < 0 ? nullptr : avcodec_find_decoder(raw->streams[stream]->codecpar->codec_id);
    if (!decoder) throw FilmError(FilmFault::not_film, path + " has no sound that can be played");
    for (unsigned i = 0; i < raw->nb_streams; ++i) {
        raw->streams[i]->discard = static_cast<int>(i) == stream ? AVDISCARD_DEFAULT : AVDISCARD_ALL;
    }
    codec = av::make_codec(decoder);
    avcodec_parameters_to_context(codec.get(), raw->streams[stream]->codecpar);
    codec->pkt_timebase = raw->streams[stream]->time_base;
    if (avcodec_open2(codec.get(), decoder, nullptr) < 0) {
        throw FilmError(FilmFault::not_film, path + " has no sound that can be played");
    }
}

/// Is nothing to be heard from where the sound is up to then? A time beyond the film's end is damage.
bool FilmSound::Insides::is_gap(double until_s) const {
    const double end_s =
        static_cast<double>(std::max<std::int64_t>(0, input->start_time) + input->duration) / AV_TIME_BASE;
    return until_s > ready_s + most_slip_s && until_s < end_s;
}

/// In the time of the film: where it begins, and anew after a gap. What was decoded before has been read.
void FilmSound::Insides::place() {
    if (frame->best_effort_timestamp == AV_NOPTS_VALUE) return;
    const AVRational base = input->streams[stream]->time_base;
    const double at_s = static_cast<double>(frame->best_effort_timestamp) * av_q2d(base);
    if (!placed || is_gap(at_s)) ready_s = at_s;
    placed = true;
}

void FilmSound::Insides::convert() {
    // A damaged or joined film may change its sound on the way; the resampler then has to be made anew.
    const Kind now{frame->format, frame->sample_rate, frame->ch_layout.nb_channels};
    if (now.channels < 1 || now.rate_hz < 1) return;
    if (!resampler || now != kind) {
        kind = now;
        SwrContext* raw = nullptr;
        AVChannelLayout stereo = AV_CHANNEL_LAYOUT_STEREO;
        swr_alloc_set_opts2(&raw, &stereo, AV_SAMPLE_FMT_FLT, rate_hz, &frame->ch_layout,
                            static_cast<AVSampleFormat>(frame->format), frame->sample_rate, 0, nullptr);
        resampler = av::owned<Resampler>(raw);
        if (swr_init(resampler.get()) < 0) {
            resampler.reset();
            return;
        }
    }
    place();
    const int room = swr_get_out_samples(resampler.get(), frame->nb_samples);
    if (room <= 0) return;
    const std::size_t before = ready.size();
    ready.resize(before + static_cast<std::size_t>(room) * channels);
    auto* out = reinterpret_cast<std::uint8_t*>(ready.data() + before);
    const int got = swr_convert(resampler.get(), &out, room,
                                const_cast<const std::uint8_t**>(frame->extended_data), frame->nb_samples);
    ready.resize(before + static_cast<std::size_t>(std::max(0, got)) * channels);
}

bool FilmSound::Insides::decode_more() {
    while (!ended) {
        const int code = avcodec_receive_frame(codec.get(), frame.get());
        if (code >= 0) {
            convert();
            av_frame_unref(frame.get());
            return true;
        }
        if (code == AVERROR_EOF || (code != AVERROR(EAGAIN) && drained)) {
            ended = true;
            break;
        }
        if (av_read_frame(input.get(), packet.get()) < 0) {
            drained = true;
            avcodec_send_packet(codec.get(), nullptr);
            continue;
        }
        const av::PacketLease lease(*packet);
        if (packet->stream_index == stream) avcodec_send_packet(codec.get(), packet.get());
    }
    return false;
}

// Drops what lies before the time gone to.
void FilmSound::Insides::align() {
    while (placed && ready_s + 0.5 / rate_hz < wanted_s) {
        const auto early =
            static_cast<std::size_t>(std::llround(std::min((wanted_s - ready_s) * rate_hz, furthest_count)));
        const std::size_t dropped = std::min(early, waiting());
        used += dropped;
        ready_s += static_cast<double>(dropped) / rate_hz;
        if (dropped == early || !decode_more()) return;
    }
}

FilmSound::FilmSound(const std::string& path) : insides_(std::make_unique<Insides>()) {
    insides_->open(path);
}

FilmSound::~FilmSound() = default;
FilmSound::FilmSound(FilmSound&&) noexcept = default;
FilmSound& FilmSound::operator=(FilmSound&&) noexcept = default;

void FilmSound::go_to(double seconds) {
    constexpr double run_in_s = 0.2; // codecs need a few packets before their sound is right
    Insides& my = *insides_;
    const AVRational base = my.input->streams[my.stream]->time_base;
    const auto ticks = static_cast<std::int64_t>(
        std::clamp((seconds - run_in_s) / av_q2d(base), -furthest_count, furthest_count));
    if (av_seek_frame(my.input.get(), my.stream, ticks, AVSEEK_FLAG_BACKWARD) < 0) {
        av_seek_frame(my.input.get(), my.stream, 0, AVSEEK_FLAG_BYTE);
    }
    avcodec_flush_buffers(my.codec.get());
    my.resampler.reset();
    my.ready.clear();
    my.used = 0;
    my.placed = my.ended = my.drained = false;
    my.wanted_s = seconds;
}

std::size_t FilmSound::read(std::span<float> interleaved) {
    Insides& my = *insides_;
    const std::size_t moments = interleaved.size() / channels;
    std::size_t done = 0;
    while (done < moments) {
        if (my.waiting() == 0) {
            my.ready.clear();
            my.used = 0;
            if (!my.decode_more()) break;
        }
        if (my.placed) my.align();
        if (my.waiting() == 0) continue;
        const double gap = my.placed ? my.ready_s - my.wanted_s : 0.0;
        const auto silent =
            static_cast<std::size_t>(std::clamp(std::round(gap * rate_hz), 0.0, furthest_count));
        const bool fill = silent > 0;
        const std::size_t count = std::min(moments - done, fill ? silent : my.waiting());
        float* to = interleaved.data() + done * channels;
        if (fill) {
            std::fill_n(to, count * channels, 0.0f);
        } else {
            std::copy_n(my.ready.data() + my.used * channels, count * channels, to);
            my.used += count;
            my.ready_s += static_cast<double>(count) / rate_hz;
        }
        my.wanted_s += static_cast<double>(count) / rate_hz;
        done += count;
    }
    return done;
}

double FilmSound::next_seconds() const {
    return insides_->wanted_s;
}

} // namespace ropeline
