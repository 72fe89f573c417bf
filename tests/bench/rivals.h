// Ways to get at the frames of a film, behind one face, so that each can be timed in the same run.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace bench {

class Rival {
public:
    virtual ~Rival() = default;
    virtual std::int64_t frames() = 0;
    virtual bool next() = 0;                    ///< decodes the next frame in order; false at the end
    virtual bool go_to(std::int64_t frame) = 0; ///< decodes this frame
    virtual std::string
    digest() = 0; ///< of the frame last got; only comparable within one rival, but for MD5s
    virtual std::int64_t decoded() { return 0; }
};

struct RivalKind {
    std::string name;
    std::unique_ptr<Rival> (*open)(const std::string& path);
    bool digests_are_md5; ///< of the native planes, comparable to `ffmpeg -f framemd5`
};

/// libav driven directly: plain decoding with so many threads, and jumps by its own seek to the key frame before,
/// from where pictures that no other leans on are skipped (AVDISCARD_NONREF) up to the one wanted.
std::unique_ptr<Rival> open_libav(const std::string& path, int threads);
/// This program's reader with a cache of so many bytes.
std::unique_ptr<Rival> open_ours(const std::string& path, std::size_t cache_bytes);
/// FFMS2 and OpenCV, as far as they are installed.
std::vector<RivalKind> others();

/// libav's open, stream probing and one decoded frame.
double libav_first_frame_ms(const std::string& path);
/// Reading every packet of the picture stream, nothing else.
double libav_packets_ms(const std::string& path);

} // namespace bench
