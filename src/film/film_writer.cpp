#include "film/film_writer.h"

#include "film/av.h"
#include "film/film_error.h"

#include <algorithm>
#include <filesystem>
#include <unistd.h>
#include <vector>

namespace ropeline {

namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const std::string& path, const std::string& why) {
    throw FilmError(FilmFault::cannot_write, "cannot write the film " + path + ": " + why);
}

void check(const FilmWriterOptions& options, const std::string& path) {
    if (options.width_px < 2 || options.height_px < 2 || options.width_px % 2 != 0 ||
        options.height_px % 2 != 0) {
        refuse(path, "width and height must be even, got " + std::to_string(options.width_px) + "x" +
                         std::to_string(options.height_px));
    }
    if (options.rate_numerator < 1 || options.rate_denominator < 1)
        refuse(path, "the frame rate must be above zero");
    if (options.crf < 0 || options.crf > 51)
        refuse(path, "crf must be 0 to 51, got " + std::to_string(options.crf));
    if (options.gop < 1 || options.b_frames < 0 || options.b_frames > 16) {
        refuse(path, "gop must be at least 1 and b_frames 0 to 16");
    }
}

av::Codec open_encoder(const FilmWriterOptions& options, const std::string& path, bool global_header) {
    const AVCodec* codec = avcodec_find_encoder_by_name("libx264");
    if (!codec)
        refuse(path, "this libavcodec has no libx264 encoder; install the FFmpeg libraries built with x264");
    auto encoder = av::make_codec(codec);
    encoder->width = options.width_px;
    encoder->height = options.height_px;
    encoder->pix_fmt = AV_PIX_FMT_YUV420P;
    encoder->time_base = {options.rate_denominator, options.rate_numerator};
    encoder->framerate = {options.rate_numerator, options.rate_denominator};
    encoder->gop_size = options.gop;
    encoder->max_b_frames = options.b_frames;
    encoder->color_range = AVCOL_RANGE_MPEG;
    encoder->colorspace = AVCOL_SPC_BT709;
    encoder->color_primaries = AVCOL_PRI_BT709;
    encoder->color_trc = AVCOL_TRC_BT709;
    encoder->chroma_sample_location = AVCHROMA_LOC_LEFT;
    encoder->thread_count = 4; // fixed, since the output depends on it
    encoder->flags |= AV_CODEC_FLAG_BITEXACT;
    if (global_header) encoder->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
    av::Options wishes;
    // x264 164 reads memory it never wrote when it builds macroblock trees with AVX-512: the same pictures
    // then give other bytes. Seen with MALLOC_PERTURB_ at sizes that are no multiple of 64.
    wishes.set("crf", std::to_string(options.crf)).set("preset", options.preset).set("mbtree", "0");
    if (const int code = avcodec_open2(encoder.get(), codec, wishes.address()); code < 0)
        refuse(path, av::error_text(code));
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
    std::string path;
    std::string beside; // where the film grows until finish()
    FilmWriterOptions options;
    av::Output output;
    av::Codec encoder;
    av::Scaler scaler;
    av::Frame frame = av::make_frame();
    av::Packet packet = av::make_packet();
    AVStream* stream = nullptr;
    std::vector<std::uint8_t> padded; // the scaler reads whole vectors, past the end of the last row
    std::int64_t added = 0;

    void demand(int code) const {
        if (code < 0) refuse(path, av::error_text(code));
    }

    void open() {
        AVFormatContext* raw = nullptr;
        demand(avformat_alloc_output_context2(&raw, nullptr, "mp4", beside.c_str()));
        output = av::owned<av::Output>(raw);
        output->flags |= AVFMT_FLAG_BITEXACT;
        encoder = open_encoder(options, path, (output->oformat->flags & AVFMT_GLOBALHEADER) != 0);
        scaler = open_scaler(options);
        stream = avformat_new_stream(output.get(), nullptr);
        if (!stream) throw std::bad_alloc{};
        demand(avcodec_parameters_from_context(stream->codecpar, encoder.get()));
        stream->time_base = encoder->time_base;
        stream->avg_frame_rate = encoder->framerate;
        demand(avio_open(&output->pb, beside.c_str(), AVIO_FLAG_WRITE));
        av::Options wishes;
        wishes.set("movflags", "+faststart"); // a phone starts to play before it has it all
        demand(avformat_write_header(output.get(), wishes.address()));

        padded.resize(static_cast<std::size_t>(options.width_px) *
                          static_cast<std::size_t>(options.height_px) * 3 +
                      64);
        frame->format = AV_PIX_FMT_YUV420P;
        frame->width = options.width_px;
        frame->height = options.height_px;
        demand(av_frame_get_buffer(frame.get(), 0));
    }

    void send(const AVFrame* picture) {
        demand(avcodec_send_frame(encoder.get(), picture));
        for (;;) {
            const int code = avcodec_receive_packet(encoder.get(), packet.get());
            if (code == AVERROR(EAGAIN) || code == AVERROR_EOF) return;
            demand(code);
            const av::PacketLease lease(*packet);
            packet->duration = 1;
            av_packet_rescale_ts(packet.get(), encoder->time_base, stream->time_base);
            packet->stream_index = stream->index;
            demand(av_interleaved_write_frame(output.get(), packet.get()));
            demand(output->pb->error);
        }
    }

    void discard() noexcept {
        output.reset();
        std::error_code ignored;
        if (!beside.empty()) fs::remove(beside, ignored);
    }
};

FilmWriter::FilmWriter(const std::string& path, const FilmWriterOptions& options)
    : insides_(std::make_unique<Insides>()) {
    av::silence();
    check(options, path);
    insides_->path = path;
    insides_->options = options;
    const fs::path target(path);
    std::string name{"."}; // built by appending: GCC 12 warns wrongly about "." + string in release builds
    name.append(target.filename().string()).append(".").append(std::to_string(getpid())).append(".part");
    insides_->beside = (target.parent_path() / name).string();
    try {
        insides_->open();
    } catch (...) {
        insides_->discard();
        throw;
    }
}

FilmWriter::~FilmWriter() {
    if (insides_->output) insides_->discard();
}

void FilmWriter::add(std::span<const std::uint8_t> rgb) {
    Insides& my = *insides_;
    const auto row = static_cast<std::size_t>(my.options.width_px) * 3;
    if (rgb.size() != row * static_cast<std::size_t>(my.options.height_px)) {
        refuse(my.path, "a picture has " + std::to_string(rgb.size()) + " bytes, not width*height*3");
    }
    if (!my.output) refuse(my.path, "it is already finished");
    my.demand(av_frame_make_writable(my.frame.get()));
    std::copy(rgb.begin(), rgb.end(), my.padded.begin());
    const std::uint8_t* source[] = {my.padded.data()};
    const int stride[] = {static_cast<int>(row)};
    sws_scale(my.scaler.get(), source, stride, 0, my.options.height_px, my.frame->data, my.frame->linesize);
    my.frame->pts = my.added++;
    my.send(my.frame.get());
}

void FilmWriter::finish() {
    Insides& my = *insides_;
    if (!my.output) return;
    if (my.added == 0) refuse(my.path, "it has no pictures");
    my.send(nullptr);
    my.demand(av_write_trailer(my.output.get()));
    my.demand(my.output->pb->error);
    my.demand(avio_closep(&my.output->pb));
    my.output.reset();
    std::error_code code;
    fs::rename(my.beside, my.path, code);
    if (code) {
        my.discard();
        refuse(my.path, code.message());
    }
}

} // namespace ropeline
