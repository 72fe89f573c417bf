#include "film/movie_writer.h"

#include "film/film_error.h"
#include "film/movie_encoders.h"
#include "film/sound.h"

#include <algorithm>
#include <atomic>
#include <cstring>
#include <filesystem>
#include <unistd.h>

namespace ropeline {

namespace fs = std::filesystem;

struct MovieWriter::Insides {
    std::string path;
    std::string beside; // where the film grows until finish()
    MovieOptions options;
    av::Output output;
    av::Codec pictures, sound;
    AVStream* picture_stream = nullptr;
    AVStream* sound_stream = nullptr;
    av::Frame picture = av::make_frame(), samples = av::make_frame();
    av::Packet packet = av::make_packet();
    std::vector<std::pair<std::int64_t, std::int64_t>> lengths; // by time, of pictures still in the encoder
    std::vector<float> waiting;                                 // less than one sound frame
    std::int64_t samples_sent = 0, pictures_added = 0;

    void demand(int code) const {
        if (code < 0)
            throw FilmError(FilmFault::cannot_write,
                            "cannot write the film " + path + ": " + av::error_text(code));
    }

    AVStream* add_stream(const AVCodecContext& encoder) {
        AVStream* stream = avformat_new_stream(output.get(), nullptr);
        if (!stream) throw std::bad_alloc{};
        demand(avcodec_parameters_from_context(stream->codecpar, &encoder));
        stream->time_base = encoder.time_base;
        return stream;
    }

    void make_frames() {
        picture->format = AV_PIX_FMT_YUV420P;
        picture->width = options.width_px;
        picture->height = options.height_px;
        demand(av_frame_get_buffer(picture.get(), 0));
        if (!sound) return;
        samples->format = sound->sample_fmt;
        samples->nb_samples = sound->frame_size;
        samples->sample_rate = sound->sample_rate;
        demand(av_channel_layout_copy(&samples->ch_layout, &sound->ch_layout));
        demand(av_frame_get_buffer(samples.get(), 0));
    }

    void open() {
        AVFormatContext* raw = nullptr;
        demand(avformat_alloc_output_context2(&raw, nullptr, "mp4", beside.c_str()));
        output = av::owned<av::Output>(raw);
        pictures = open_picture_encoder(options, path);
        picture_stream = add_stream(*pictures);
        picture_stream->avg_frame_rate = pictures->framerate;
        if (options.with_sound) {
            sound = open_sound_encoder(path);
            sound_stream = add_stream(*sound);
        }
        for (const MovieChapter& chapter : options.chapters)
            put_chapter(*output, chapter);
        if (!options.title.empty()) av_dict_set(&output->metadata, "title", options.title.c_str(), 0);
        make_frames();
        demand(avio_open(&output->pb, beside.c_str(), AVIO_FLAG_WRITE));
        // A phone starts to play before it has it all. The short list of chapters cuts a title at 255 bytes, within a
        // letter too; the text track keeps it whole.
        av::Options wishes;
        wishes.set("movflags", "+faststart+disable_chpl");
        demand(avformat_write_header(output.get(), wishes.address()));
    }

    /// How long the picture of that time lasts; the encoder gives pictures in another order and without it.
    std::int64_t length_of(std::int64_t at) {
        const auto found = std::ranges::find(lengths, at, &std::pair<std::int64_t, std::int64_t>::first);
        if (found == lengths.end()) return 0;
        const std::int64_t length = found->second;
        lengths.erase(found);
        return length;
    }

    void send(AVCodecContext& encoder, AVStream& stream, const AVFrame* frame) {
        demand(avcodec_send_frame(&encoder, frame));
        for (;;) {
            const int code = avcodec_receive_packet(&encoder, packet.get());
            if (code == AVERROR(EAGAIN) || code == AVERROR_EOF) return;
            demand(code);
            const av::PacketLease lease(*packet);
            if (&encoder == pictures.get()) packet->duration = length_of(packet->pts);
            av_packet_rescale_ts(packet.get(), encoder.time_base, stream.time_base);
            packet->stream_index = stream.index;
            demand(av_interleaved_write_frame(output.get(), packet.get()));
            demand(output->pb->error);
        }
    }

    void send_waiting(std::size_t moments) {
        demand(av_frame_make_writable(samples.get()));
        samples->nb_samples = static_cast<int>(moments);
        for (std::size_t channel = 0; channel < FilmSound::channels; ++channel) {
            auto* const to = reinterpret_cast<float*>(samples->data[channel]);
            for (std::size_t i = 0; i < moments; ++i)
                to[i] = waiting[i * FilmSound::channels + channel];
        }
        waiting.erase(waiting.begin(),
                      waiting.begin() + static_cast<std::ptrdiff_t>(moments * FilmSound::channels));
        samples->pts = samples_sent;
        samples_sent += static_cast<std::int64_t>(moments);
        send(*sound, *sound_stream, samples.get());
    }

    void discard() noexcept {
        output.reset();
        std::error_code ignored;
        if (!beside.empty()) fs::remove(beside, ignored);
    }
};

MovieWriter::MovieWriter(const std::string& path, const MovieOptions& options)
    : insides_(std::make_unique<Insides>()) {
    av::silence();
    insides_->path = path;
    insides_->options = options;
    const fs::path target(path);
    static std::atomic<int> made_here{0};
    std::string name{"."}; // not the target's own, which may be as long as a name can be
    name.append(std::to_string(getpid())).append("-").append(std::to_string(++made_here)).append(".part");
    insides_->beside = (target.parent_path() / name).string();
    try {
        insides_->open();
    } catch (...) {
        insides_->discard();
        throw;
    }
}

MovieWriter::~MovieWriter() {
    if (insides_->output) insides_->discard();
}

void MovieWriter::add(const YuvPicture& picture, std::int64_t at, std::int64_t length) {
    Insides& my = *insides_;
    my.demand(av_frame_make_writable(my.picture.get()));
    for (int plane = 0; plane < 3; ++plane) {
        const int part = plane == 0 ? 1 : 2;
        for (int row = 0; row < picture.height_px() / part; ++row)
            std::memcpy(my.picture->data[plane] +
                            static_cast<std::ptrdiff_t>(row) * my.picture->linesize[plane],
                        picture.plane(plane) + static_cast<std::ptrdiff_t>(row) * picture.stride(plane),
                        static_cast<std::size_t>(picture.width_px() / part));
    }
    my.picture->pts = at;
    my.lengths.emplace_back(at, length);
    ++my.pictures_added;
    my.send(*my.pictures, *my.picture_stream, my.picture.get());
}

void MovieWriter::add_sound(std::span<const float> interleaved) {
    Insides& my = *insides_;
    if (!my.sound) return;
    my.waiting.insert(my.waiting.end(), interleaved.begin(), interleaved.end());
    const auto whole = static_cast<std::size_t>(my.sound->frame_size);
    while (my.waiting.size() >= whole * FilmSound::channels)
        my.send_waiting(whole);
}

void MovieWriter::finish() {
    Insides& my = *insides_;
    if (!my.output) return;
    if (my.pictures_added == 0)
        throw FilmError(FilmFault::cannot_write, "cannot write the film " + my.path + ": it has no pictures");
    my.send(*my.pictures, *my.picture_stream, nullptr);
    if (my.sound) {
        if (!my.waiting.empty()) my.send_waiting(my.waiting.size() / FilmSound::channels);
        my.send(*my.sound, *my.sound_stream, nullptr);
    }
    my.demand(av_write_trailer(my.output.get()));
    my.demand(my.output->pb->error);
    my.demand(avio_closep(&my.output->pb));
    my.output.reset();
    std::error_code code;
    fs::rename(my.beside, my.path, code);
    if (code) {
        my.discard();
        throw FilmError(FilmFault::cannot_write, "cannot write the film " + my.path + ": " + code.message());
    }
}

} // namespace ropeline
