#include "film/movie_writer.h"

#include "film/growing_film.h"
#include "film/movie_encoders.h"
#include "film/sound.h"

#include <algorithm>
#include <cstring>
#include <utility>

namespace ropeline {

struct MovieWriter::Insides {
    MovieOptions options;
    GrowingFilm film;
    av::Codec pictures, sound;
    AVStream* picture_stream = nullptr;
    AVStream* sound_stream = nullptr;
    av::Frame picture = av::make_frame(), samples = av::make_frame();
    std::vector<std::pair<std::int64_t, std::int64_t>> lengths; // by time, of pictures still in the encoder
    std::vector<float> waiting;                                 // less than one sound frame
    std::int64_t samples_sent = 0, pictures_added = 0;

    Insides(const std::string& path, const MovieOptions& wanted) : options(wanted), film(path) {
        pictures = open_picture_encoder(options, path);
        picture_stream = &film.add_stream(*pictures);
        if (options.with_sound) {
            sound = open_sound_encoder(path);
            sound_stream = &film.add_stream(*sound);
        }
        for (const MovieChapter& chapter : options.chapters)
            put_chapter(film.output(), chapter);
        if (!options.title.empty()) av_dict_set(&film.output().metadata, "title", options.title.c_str(), 0);
        make_frames();
        // A phone starts to play before it has it all. The short list of chapters cuts a title at 255 bytes, within a
        // letter too; the text track keeps it whole.
        film.begin("+faststart+disable_chpl");
    }

    void make_frames() {
        picture->format = AV_PIX_FMT_YUV420P;
        picture->width = options.width_px;
        picture->height = options.height_px;
        film.demand(av_frame_get_buffer(picture.get(), 0));
        if (!sound) return;
        samples->format = sound->sample_fmt;
        samples->nb_samples = sound->frame_size;
        samples->sample_rate = sound->sample_rate;
        film.demand(av_channel_layout_copy(&samples->ch_layout, &sound->ch_layout));
        film.demand(av_frame_get_buffer(samples.get(), 0));
    }

    /// How long the picture of that time lasts; the encoder gives pictures in another order and without it.
    std::int64_t length_of(std::int64_t at) {
        const auto found = std::ranges::find(lengths, at, &std::pair<std::int64_t, std::int64_t>::first);
        if (found == lengths.end()) return 0;
        const std::int64_t length = found->second;
        lengths.erase(found);
        return length;
    }

    void send_picture(const AVFrame* frame) {
        film.send(*pictures, *picture_stream, frame, [&](std::int64_t at) { return length_of(at); });
    }

    void send_waiting(std::size_t moments) {
        film.demand(av_frame_make_writable(samples.get()));
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
        film.send(*sound, *sound_stream, samples.get());
    }
};

MovieWriter::MovieWriter(const std::string& path, const MovieOptions& options)
    : insides_(std::make_unique<Insides>(path, options)) {}

MovieWriter::~MovieWriter() = default;

void MovieWriter::add(const YuvPicture& picture, std::int64_t at, std::int64_t length) {
    Insides& my = *insides_;
    my.film.demand(av_frame_make_writable(my.picture.get()));
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
    my.send_picture(my.picture.get());
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
    if (my.film.finished()) return;
    if (my.pictures_added == 0) cannot_write(my.film.path(), "it has no pictures");
    my.send_picture(nullptr);
    if (my.sound) {
        if (!my.waiting.empty()) my.send_waiting(my.waiting.size() / FilmSound::channels);
        my.film.send(*my.sound, *my.sound_stream, nullptr);
    }
    my.film.finish();
}

} // namespace ropeline
