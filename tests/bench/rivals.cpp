#include "bench/rivals.h"

#include <chrono>
#include <functional>
#include <stdexcept>

#include "film/av.h"
#include "film/film_error.h"
#include "film/film_reader.h"

#ifdef WITH_FFMS2
#include <ffms.h>
#endif
#ifdef WITH_OPENCV
#include <opencv2/videoio.hpp>
#endif

namespace bench {

namespace {

namespace av = ropeline::av;

std::string md5_of(const std::uint8_t* const* data, const int* strides, AVPixelFormat format, int width,
                   int height) {
    const int size = av_image_get_buffer_size(format, width, height, 1);
    std::vector<std::uint8_t> packed(static_cast<std::size_t>(size));
    av_image_copy_to_buffer(packed.data(), size, data, strides, format, width, height, 1);
    std::uint8_t digest[16];
    av_md5_sum(digest, packed.data(), packed.size());
    return av::hex(digest);
}

class Libav final : public Rival {
public:
    Libav(const std::string& path, int threads) {
        av::silence();
        AVFormatContext* raw = nullptr;
        if (avformat_open_input(&raw, path.c_str(), nullptr, nullptr) < 0)
            throw std::runtime_error("cannot open " + path);
        input_.reset(raw);
        avformat_find_stream_info(raw, nullptr);
        stream_ = av_find_best_stream(raw, AVMEDIA_TYPE_VIDEO, -1, -1, nullptr, 0);
        for (unsigned i = 0; i < raw->nb_streams; ++i) {
            raw->streams[i]->discard = static_cast<int>(i) == stream_ ? AVDISCARD_DEFAULT : AVDISCARD_ALL;
        }
        const AVCodecParameters& parameters = *raw->streams[stream_]->codecpar;
        const AVCodec* decoder = avcodec_find_decoder(parameters.codec_id);
        codec_ = av::make_codec(decoder);
        avcodec_parameters_to_context(codec_.get(), &parameters);
        codec_->thread_count = threads;
        if (avcodec_open2(codec_.get(), decoder, nullptr) < 0)
            throw std::runtime_error("cannot decode " + path);
    }
    std::int64_t frames() override { return input_->streams[stream_]->nb_frames; }
    bool next() override {
        for (;;) {
            const int code = avcodec_receive_frame(codec_.get(), frame_.get());
            if (code >= 0) return true;
            if (code == AVERROR_EOF) return false;
            if (av_read_frame(input_.get(), packet_.get()) < 0) {
                avcodec_send_packet(codec_.get(), nullptr);
                continue;
            }
            const av::PacketLease lease(*packet_);
            if (packet_->stream_index != stream_) continue;
            codec_->skip_frame = packet_->pts < needed_ ? AVDISCARD_NONREF : AVDISCARD_DEFAULT;
            avcodec_send_packet(codec_.get(), packet_.get());
        }
    }
    // Constant rate: the time of a frame is known beforehand. Pictures before it that no other leans on are skipped,
    // as libav does it when told so.
    bool go_to(std::int64_t frame) override {
        const AVStream& stream = *input_->streams[stream_];
        const std::int64_t start = stream.start_time == AV_NOPTS_VALUE ? 0 : stream.start_time;
        const std::int64_t pts =
            start + av_rescale_q(frame, av_inv_q(stream.avg_frame_rate), stream.time_base);
        if (av_seek_frame(input_.get(), stream_, pts, AVSEEK_FLAG_BACKWARD) < 0) return false;
        avcodec_flush_buffers(codec_.get());
        needed_ = pts;
        while (next()) {
            if (frame_->pts >= pts) return true;
        }
        return false;
    }
    std::string digest() override {
        return md5_of(frame_->data, frame_->linesize, static_cast<AVPixelFormat>(frame_->format),
                      frame_->width, frame_->height);
    }

private:
    av::Input input_;
    av::Codec codec_;
    av::Packet packet_ = av::make_packet();
    av::Frame frame_ = av::make_frame();
    int stream_ = 0;
    std::int64_t needed_ = INT64_MIN; ///< pts of the first picture wanted
};

class Ours final : public Rival {
public:
    Ours(const std::string& path, std::size_t cache_bytes) : film_(path, {.cache_bytes = cache_bytes}) {}
    std::int64_t frames() override { return film_.frames().count(); }
    bool next() override { return at_ + 1 < frames() && go_to(at_ + 1); }
    bool go_to(std::int64_t frame) override {
        at_ = frame;
        try {
            picture_ = film_.picture(ropeline::FrameIndex{frame});
        } catch (const ropeline::FilmError&) {
            return false;
        }
        return true;
    }
    std::string digest() override { return picture_->md5(); }
    std::int64_t decoded() override { return film_.decoded(); }

private:
    ropeline::FilmReader film_;
    ropeline::PicturePtr picture_;
    std::int64_t at_ = -1;
};

#ifdef WITH_FFMS2
class Ffms final : public Rival {
public:
    explicit Ffms(const std::string& path) {
        FFMS_Init(0, 0);
        FFMS_Indexer* indexer = FFMS_CreateIndexer(path.c_str(), &error_);
        FFMS_Index* index = indexer ? FFMS_DoIndexing2(indexer, FFMS_IEH_ABORT, &error_) : nullptr;
        const int track = index ? FFMS_GetFirstTrackOfType(index, FFMS_TYPE_VIDEO, &error_) : -1;
        source_ = track < 0
                      ? nullptr
                      : FFMS_CreateVideoSource(path.c_str(), track, index, 0, FFMS_SEEK_NORMAL, &error_);
        FFMS_DestroyIndex(index);
        if (!source_) throw std::runtime_error("FFMS2 cannot open it");
    }
    ~Ffms() override { FFMS_DestroyVideoSource(source_); }
    Ffms(const Ffms&) = delete;
    Ffms& operator=(const Ffms&) = delete;
    std::int64_t frames() override { return FFMS_GetVideoProperties(source_)->NumFrames; }
    bool next() override { return at_ + 1 < frames() && go_to(at_ + 1); }
    bool go_to(std::int64_t frame) override {
        at_ = frame;
        frame_ = FFMS_GetFrame(source_, static_cast<int>(frame), &error_);
        return frame_ != nullptr;
    }
    std::string digest() override {
        return md5_of(frame_->Data, frame_->Linesize, static_cast<AVPixelFormat>(frame_->EncodedPixelFormat),
                      frame_->EncodedWidth, frame_->EncodedHeight);
    }

private:
    char text_[256] = {};
    FFMS_ErrorInfo error_{0, 0, sizeof text_, text_};
    FFMS_VideoSource* source_ = nullptr;
    const FFMS_Frame* frame_ = nullptr;
    std::int64_t at_ = -1;
};
#endif

#ifdef WITH_OPENCV
class OpenCv final : public Rival {
public:
    explicit OpenCv(const std::string& path) : film_(path, cv::CAP_FFMPEG) {
        if (!film_.isOpened()) throw std::runtime_error("OpenCV cannot open it");
    }
    std::int64_t frames() override { return static_cast<std::int64_t>(film_.get(cv::CAP_PROP_FRAME_COUNT)); }
    bool next() override { return film_.grab(); } // decodes; the conversion to BGR is left out, in its favour
    bool go_to(std::int64_t frame) override {
        return film_.set(cv::CAP_PROP_POS_FRAMES, static_cast<double>(frame)) && film_.grab();
    }
    std::string digest() override {
        cv::Mat picture;
        if (!film_.retrieve(picture)) return "nothing";
        std::uint8_t digest[16];
        av_md5_sum(digest, picture.data, picture.total() * picture.elemSize());
        return av::hex(digest);
    }

private:
    cv::VideoCapture film_;
};
#endif

double ms_of(const std::function<void()>& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

} // namespace

std::unique_ptr<Rival> open_libav(const std::string& path, int threads) {
    return std::make_unique<Libav>(path, threads);
}

std::unique_ptr<Rival> open_ours(const std::string& path, std::size_t cache_bytes) {
    return std::make_unique<Ours>(path, cache_bytes);
}

std::vector<RivalKind> others() {
    std::vector<RivalKind> all;
#ifdef WITH_FFMS2
    all.push_back(
        {"FFMS2",
         [](const std::string& path) -> std::unique_ptr<Rival> { return std::make_unique<Ffms>(path); },
         true});
#endif
#ifdef WITH_OPENCV
    all.push_back(
        {"OpenCV",
         [](const std::string& path) -> std::unique_ptr<Rival> { return std::make_unique<OpenCv>(path); },
         false});
#endif
    return all;
}

double libav_first_frame_ms(const std::string& path) {
    return ms_of([&] { Libav(path, 1).next(); });
}

double libav_packets_ms(const std::string& path) {
    av::silence();
    AVFormatContext* raw = nullptr;
    if (avformat_open_input(&raw, path.c_str(), nullptr, nullptr) < 0)
        throw std::runtime_error("cannot open " + path);
    const av::Input input(raw);
    avformat_find_stream_info(raw, nullptr);
    const int stream = av_find_best_stream(raw, AVMEDIA_TYPE_VIDEO, -1, -1, nullptr, 0);
    for (unsigned i = 0; i < raw->nb_streams; ++i) {
        raw->streams[i]->discard = static_cast<int>(i) == stream ? AVDISCARD_DEFAULT : AVDISCARD_ALL;
    }
    const auto packet = av::make_packet();
    return ms_of([&] {
        while (av_read_frame(raw, packet.get()) >= 0)
            av_packet_unref(packet.get());
    });
}

} // namespace bench
