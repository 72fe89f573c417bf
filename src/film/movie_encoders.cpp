#include "film/movie_encoders.h"

#include "film/growing_film.h"
#include "film/sound.h"

extern "C" {
#include <libavutil/channel_layout.h>
}

namespace ropeline {

av::Codec h264_encoder(int width_px, int height_px, const std::string& path) {
    if (width_px < 2 || height_px < 2 || width_px % 2 != 0 || height_px % 2 != 0)
        cannot_write(path, "width and height must be even, got " + std::to_string(width_px) + "x" +
                               std::to_string(height_px));
    const AVCodec* codec = avcodec_find_encoder_by_name("libx264");
    if (!codec)
        cannot_write(path,
                     "this libavcodec has no libx264 encoder; install the FFmpeg libraries built with x264");
    auto encoder = av::make_codec(codec);
    encoder->width = width_px;
    encoder->height = height_px;
    encoder->pix_fmt = AV_PIX_FMT_YUV420P;
    encoder->color_range = AVCOL_RANGE_MPEG;
    encoder->colorspace = AVCOL_SPC_BT709;
    encoder->color_primaries = AVCOL_PRI_BT709;
    encoder->color_trc = AVCOL_TRC_BT709;
    encoder->chroma_sample_location = AVCHROMA_LOC_LEFT;
    encoder->flags |= AV_CODEC_FLAG_GLOBAL_HEADER; // as MP4 wants it
    return encoder;
}

void open_with(AVCodecContext& encoder, av::Options& wishes, const std::string& path) {
    if (const int code = avcodec_open2(&encoder, nullptr, wishes.address()); code < 0)
        cannot_write(path, av::error_text(code));
}

av::Codec open_picture_encoder(const MovieOptions& options, const std::string& path) {
    auto encoder = h264_encoder(options.width_px, options.height_px, path);
    encoder->time_base = {1, movie_ticks_per_s};
    encoder->framerate = {30, 1}; // for the rate control only: the times are those of the pictures
    encoder->gop_size = 60;
    encoder->sample_aspect_ratio = {1, 1};
    encoder->thread_count = options.threads;
    av::Options wishes;
    wishes.set("crf", std::to_string(options.crf)).set("preset", options.preset).set("profile", "high");
    open_with(*encoder, wishes, path);
    return encoder;
}

av::Codec open_sound_encoder(const std::string& path) {
    const AVCodec* codec = avcodec_find_encoder(AV_CODEC_ID_AAC);
    if (!codec) cannot_write(path, "this libavcodec has no AAC encoder; make the reel without sound");
    auto encoder = av::make_codec(codec);
    encoder->sample_fmt = AV_SAMPLE_FMT_FLTP;
    encoder->sample_rate = FilmSound::rate_hz;
    encoder->time_base = {1, FilmSound::rate_hz};
    encoder->bit_rate = 128000;
    av_channel_layout_default(&encoder->ch_layout, FilmSound::channels);
    encoder->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
    av::Options none;
    open_with(*encoder, none, path);
    return encoder;
}

void put_chapter(AVFormatContext& output, const MovieChapter& chapter) {
    // libav frees each chapter and the list with its context.
    auto* const list = static_cast<AVChapter**>(
        av_realloc_array(output.chapters, output.nb_chapters + 1, sizeof(AVChapter*)));
    if (!list) throw std::bad_alloc{};
    output.chapters = list;
    auto* const made = static_cast<AVChapter*>(av_mallocz(sizeof(AVChapter)));
    if (!made) throw std::bad_alloc{};
    made->id = output.nb_chapters;
    made->time_base = {1, movie_ticks_per_s};
    made->start = chapter.begins;
    made->end = chapter.ends;
    av_dict_set(&made->metadata, "title", chapter.title.c_str(), 0);
    output.chapters[output.nb_chapters++] = made;
}

} // namespace ropeline
