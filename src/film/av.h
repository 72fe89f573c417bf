// The one header that includes libav. Every handle is owned once and never null; everything else here is a
// few words of glue.
#pragma once

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/display.h>
#include <libavutil/imgutils.h>
#include <libavutil/md5.h>
#include <libavutil/opt.h>
#include <libavutil/pixdesc.h>
#include <libswscale/swscale.h>
}

#include <cstdint>
#include <memory>
#include <new>
#include <string>

namespace ropeline::av {

template <auto Free> // libav frees by address and nulls the pointer
struct FreeByAddress {
    template <class T>
    void operator()(T* owned) const noexcept {
        Free(&owned);
    }
};

using Frame = std::unique_ptr<AVFrame, FreeByAddress<av_frame_free>>;
using Packet = std::unique_ptr<AVPacket, FreeByAddress<av_packet_free>>;
using Codec = std::unique_ptr<AVCodecContext, FreeByAddress<avcodec_free_context>>;
using Input = std::unique_ptr<AVFormatContext, FreeByAddress<avformat_close_input>>;

struct FreeOutput {
    void operator()(AVFormatContext* owned) const noexcept {
        if (owned->pb) avio_closep(&owned->pb);
        avformat_free_context(owned);
    }
};
using Output = std::unique_ptr<AVFormatContext, FreeOutput>;

struct FreeScaler {
    void operator()(SwsContext* owned) const noexcept { sws_freeContext(owned); }
};
using Scaler = std::unique_ptr<SwsContext, FreeScaler>;

/// The scaler kept from the last call where it suits, else a new one in its place; null where libswscale knows none.
inline SwsContext* scaler(Scaler& kept, int width, int height, AVPixelFormat format, int to_width,
                          int to_height, AVPixelFormat to_format, int flags) {
    kept.reset(sws_getCachedContext(kept.release(), width, height, format, to_width, to_height, to_format,
                                    flags, nullptr, nullptr, nullptr));
    return kept.get();
}

template <class Owner, class Raw>
Owner owned(Raw* raw) {
    if (!raw) throw std::bad_alloc{};
    return Owner{raw};
}
inline Frame make_frame() {
    return owned<Frame>(av_frame_alloc());
}
inline Packet make_packet() {
    return owned<Packet>(av_packet_alloc());
}
inline Codec make_codec(const AVCodec* codec) {
    return owned<Codec>(avcodec_alloc_context3(codec));
}

/// Empties the packet at the end of one turn of a loop, on break, continue and throw alike.
class PacketLease {
public:
    explicit PacketLease(AVPacket& shared) noexcept : packet(shared) {}
    ~PacketLease() { av_packet_unref(&packet); }
    PacketLease(const PacketLease&) = delete;
    PacketLease& operator=(const PacketLease&) = delete;
    AVPacket& packet;
};

/// Options for libav, which rewrites the pointer and keeps what it did not know.
class Options {
public:
    Options() = default;
    ~Options() { av_dict_free(&entries_); }
    Options(const Options&) = delete;
    Options& operator=(const Options&) = delete;
    Options& set(const char* key, const std::string& value) {
        av_dict_set(&entries_, key, value.c_str(), 0);
        return *this;
    }
    AVDictionary** address() { return &entries_; }

private:
    AVDictionary* entries_ = nullptr;
};

/// The libraries print to stderr unless told not to; this program says what matters in its own words.
inline void silence() {
    av_log_set_level(AV_LOG_QUIET);
}

/// The library's own words for an error code.
inline std::string error_text(int code) {
    char text[AV_ERROR_MAX_STRING_SIZE] = {};
    av_strerror(code, text, sizeof text);
    return text;
}

inline std::string hex(const std::uint8_t (&digest)[16]) {
    constexpr char digits[] = "0123456789abcdef";
    std::string text;
    for (const std::uint8_t byte : digest) {
        text += digits[byte >> 4];
        text += digits[byte & 15];
    }
    return text;
}

} // namespace ropeline::av
