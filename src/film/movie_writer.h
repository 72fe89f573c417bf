// Writes a film for others to play: H.264 and AAC in MP4, 4:2:0, the index in front, with chapters. Its pictures may
// last as long as they like, so that a film of varying rate stays what it was.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "film/yuv.h"

namespace ropeline {

constexpr int movie_ticks_per_s =
    90000; ///< of the times below; frames of 24, 25, 30 and 60 a second are whole ticks

struct MovieChapter {
    std::int64_t begins = 0, ends = 0; ///< ticks
    std::string title;
};

struct MovieOptions {
    int width_px = 1280, height_px = 720;
    int crf = 20;
    std::string preset = "veryfast"; ///< x264's name for how hard it tries
    int threads = 0;                 ///< of the encoder; 0: what suits the machine
    bool with_sound = false;         ///< stereo at 48 kHz
    std::string title;
    std::vector<MovieChapter> chapters;
};

/// Writes beside the target and renames on finish(); without finish() nothing is left behind.
/// Throws  FilmError (disk full, no encoder), one line.
class MovieWriter {
public:
    MovieWriter(const std::string& path, const MovieOptions& options);
    ~MovieWriter();
    MovieWriter(const MovieWriter&) = delete;
    MovieWriter& operator=(const MovieWriter&) = delete;
    /// The next picture, shown from `at` on for `length` ticks.
    void add(const YuvPicture& picture, std::int64_t at, std::int64_t length);
    /// The samples that follow, left and right in turns, -1 to 1.
    void add_sound(std::span<const float> interleaved);
    void finish();

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

} // namespace ropeline
