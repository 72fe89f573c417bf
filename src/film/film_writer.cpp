#include "film/film_writer.h"

#include "film/growing_film.h"
#include "film/movie_encoders.h"

#include <algorithm>
#include <vector>

namespace ropeline {

namespace {

void check(const FilmWriterOptions& options, const std::string& path) {
    if (options.rate_numerator < 1 || options.rate_denominator < 1)
        cannot_write(path, "the frame rate must be above zero");
    if (options.crf < 0 || options.crf > 51)
        cannot_write(path, "crf must be 0 to 51, got " + std::to_string(options.crf));
    if (options.gop < 1 || options.b_frames < 0 || options.b_frames > 16) {
        cannot_write(path, "gop must be at least 1 and b_frames 0 to 16");
    }
}

av::Codec open_encoder(const FilmWriterOptions& options, const std::string& path) {
    auto encoder = h264_encoder(options.width_px, options.height_px, path);
    encoder->time_base = {options.rate_denominator, options.rate_numerator};
    encoder->framerate = {options.rate_numerator, options.rate_denominator};
    encoder->gop_size = options.gop;
    encoder->max_b_frames = options.b_frames;
    encoder->thread_count = 4; // fixed, since the output depends on it
    encoder->flags |= AV_CODEC_FLAG_BITEXACT;
    av::Options wishes;
    // x264 164 reads memory it never wrote when it builds macroblock trees with AVX-512: the same pictures
    // then give other bytes. Seen with MALLOC_PERTURB_ at sizes that are no multiple of 64.
    wishes.set("crf", std::to_string(options.crf)).set("preset", options.preset).set("mbtree", "0");
    open_with(*encoder, wishes, path);
    return encoder;
}

av::Scaler open_scaler(const FilmWriterOptions& options) {
    const int width = options.width_px, height = options.height_px;
    auto scaler = av::owned<av::Scaler>(
        sws_getContext(width, height, AV_PIX_FMT_RGB24, width, height, AV_PIX_FMT_YUV420P,
                       SWS_BICUBIC | SWS_ACCURATE_RND | SWS_BITEXACT, nullptr, nullptr, nullptr));
    const int* bt709 = sws_getCoefficients(SWS_CS_ITU709);
    sws_setColorspaceDetails(scaler.get(), bt709, 1, bt709, 0, 0, 1 << 16, 1 << 16);
    return scaler;
}

} // namespace

struct FilmWriter::Insides {
    FilmWriterOptions options;
    GrowingFilm film;
    av::Codec encoder;
    av::Scaler scaler;
    av::Frame frame = av::make_frame();
    AVStream& stream;
    std::vector<std::uint8_t> padded; // the scaler reads whole vectors, past the end of the last row
    std::int64_t added = 0;

    Insides(const std::string& path, const FilmWriterOptions& wanted)
        : options(wanted), film(path), encoder(open_encoder(options, path)), scaler(open_scaler(options)),
          stream(film.add_stream(*encoder)) {
        film.output().flags |= AVFMT_FLAG_BITEXACT;
        film.begin("+faststart"); // a phone starts to play before it has it all
        padded.resize(static_cast<std::size_t>(options.width_px) *
                          static_cast<std::size_t>(options.height_px) * 3 +
                      64);
        frame->format = AV_PIX_FMT_YUV420P;
        frame->width = options.width_px;
        frame->height = options.height_px;
        film.demand(av_frame_get_buffer(frame.get(), 0));
    }

    void send(const AVFrame* picture) {
        film.send(*encoder, stream, picture, [](std::int64_t) { return 1; });
    }
};

FilmWriter::FilmWriter(const std::string& path, const FilmWriterOptions& options) {
    check(options, path);
    insides_ = std::make_unique<Insides>(path, options);
}

FilmWriter::~FilmWriter() = default;

void FilmWriter::add(std::span<const std::uint8_t> rgb) {
    Insides& my = *insides_;
    const auto row = static_cast<std::size_t>(my.options.width_px) * 3;
    if (rgb.size() != row * static_cast<std::size_t>(my.options.height_px)) {
        cannot_write(my.film.path(),
                     "a picture has " + std::to_string(rgb.size()) + " bytes, not width*height*3");
    }
    if (my.film.finished()) cannot_write(my.film.path(), "it is already finished");
    my.film.demand(av_frame_make_writable(my.frame.get()));
    std::copy(rgb.begin(), rgb.end(), my.padded.begin());
    const std::uint8_t* source[] = {my.padded.data()};
    const int stride[] = {static_cast<int>(row)};
    sws_scale(my.scaler.get(), source, stride, 0, my.options.height_px, my.frame->data, my.frame->linesize);
    my.frame->pts = my.added++;
    my.send(my.frame.get());
}

void FilmWriter::finish() {
    Insides& my = *insides_;
    if (my.film.finished()) return;
    if (my.added == 0) cannot_write(my.film.path(), "it has no pictures");
    my.send(nullptr);
    my.film.finish();
}

} // namespace ropeline
