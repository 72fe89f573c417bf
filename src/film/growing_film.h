// A film in MP4 that grows beside its place and takes it once it is whole. Only for src/film.
#pragma once

#include <cstdint>
#include <functional>
#include <string>

#include "film/av.h"

namespace ropeline {

/// Throws  FilmError::cannot_write, one line that names the film.
[[noreturn]] void cannot_write(const std::string& path, const std::string& why);

/// Without finish() nothing is left behind. All that it does throws FilmError::cannot_write (disk full, no such folder).
class GrowingFilm {
public:
    explicit GrowingFilm(const std::string& path);
    ~GrowingFilm();
    GrowingFilm(const GrowingFilm&) = delete;
    GrowingFilm& operator=(const GrowingFilm&) = delete;

    const std::string& path() const { return path_; }
    bool finished() const { return !output_; }
    AVFormatContext& output() { return *output_; } ///< until it is finished
    void demand(int code) const;                   ///< that a call of libav went well

    AVStream& add_stream(const AVCodecContext& encoder);
    /// Writes the head: streams, chapters and title are known. `movflags` as libavformat's MP4 writer takes them.
    void begin(const std::string& movflags);
    /// Encodes a picture or some sound, null at the end, and writes what comes out. `length_of`: how long what is shown
    /// or heard from a time on lasts, in the encoder's time base; without it the encoder says so itself.
    void send(AVCodecContext& encoder, const AVStream& stream, const AVFrame* frame,
              const std::function<std::int64_t(std::int64_t at)>& length_of = {});
    void finish();

private:
    void discard() noexcept;

    std::string path_;
    std::string beside_; // where it grows until finish()
    av::Output output_;
    av::Packet packet_ = av::make_packet();
};

} // namespace ropeline
