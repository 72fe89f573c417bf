#include "film/growing_film.h"

#include "film/film_error.h"

#include <atomic>
#include <filesystem>
#include <unistd.h>

namespace ropeline {

namespace fs = std::filesystem;

void cannot_write(const std::string& path, const std::string& why) {
    throw FilmError(FilmFault::cannot_write, "cannot write the film " + path + ": " + why);
}

GrowingFilm::GrowingFilm(const std::string& path) : path_(path) {
    av::silence();
    static std::atomic<int> made_here{0};
    std::string name{"."}; // not the target's own, which may be as long as a name can be
    name.append(std::to_string(getpid())).append("-").append(std::to_string(++made_here)).append(".part");
    beside_ = (fs::path(path).parent_path() / name).string();
    AVFormatContext* raw = nullptr;
    demand(avformat_alloc_output_context2(&raw, nullptr, "mp4", beside_.c_str()));
    output_ = av::owned<av::Output>(raw);
}

GrowingFilm::~GrowingFilm() {
    if (output_) discard();
}

void GrowingFilm::discard() noexcept {
    output_.reset();
    std::error_code ignored;
    fs::remove(beside_, ignored);
}

void GrowingFilm::demand(int code) const {
    if (code < 0) cannot_write(path_, av::error_text(code));
}

AVStream& GrowingFilm::add_stream(const AVCodecContext& encoder) {
    AVStream* stream = avformat_new_stream(output_.get(), nullptr);
    if (!stream) throw std::bad_alloc{};
    demand(avcodec_parameters_from_context(stream->codecpar, &encoder));
    stream->time_base = encoder.time_base;
    if (encoder.codec_type == AVMEDIA_TYPE_VIDEO) stream->avg_frame_rate = encoder.framerate;
    return *stream;
}

void GrowingFilm::begin(const std::string& movflags) {
    demand(avio_open(&output_->pb, beside_.c_str(), AVIO_FLAG_WRITE));
    av::Options wishes;
    wishes.set("movflags", movflags);
    demand(avformat_write_header(output_.get(), wishes.address()));
}

void GrowingFilm::send(AVCodecContext& encoder, const AVStream& stream, const AVFrame* frame,
                       const std::function<std::int64_t(std::int64_t at)>& length_of) {
    demand(avcodec_send_frame(&encoder, frame));
    for (;;) {
        const int code = avcodec_receive_packet(&encoder, packet_.get());
        if (code == AVERROR(EAGAIN) || code == AVERROR_EOF) return;
        demand(code);
        const av::PacketLease lease(*packet_);
        if (length_of) packet_->duration = length_of(packet_->pts);
        av_packet_rescale_ts(packet_.get(), encoder.time_base, stream.time_base);
        packet_->stream_index = stream.index;
        demand(av_interleaved_write_frame(output_.get(), packet_.get()));
        demand(output_->pb->error);
    }
}

void GrowingFilm::finish() {
    demand(av_write_trailer(output_.get()));
    demand(output_->pb->error);
    demand(avio_closep(&output_->pb));
    output_.reset();
    std::error_code code;
    fs::rename(beside_, path_, code);
    if (!code) return;
    discard();
    cannot_write(path_, code.message());
}

} // namespace ropeline
