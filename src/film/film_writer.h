// Writes an H.264 film in MP4 from RGB pictures, the same bytes each time: the demo film.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>

namespace ropeline {

struct FilmWriterOptions {
    int width_px = 1280, height_px = 720;
    int rate_numerator = 30, rate_denominator = 1;
    int crf = 20;
    int gop = 60;
    int b_frames = 2;
    std::string preset = "medium"; ///< x264's name for how hard it tries; faster ones make larger files
};

/// Writes beside the target and renames on finish(); without finish() nothing is left behind.
class FilmWriter {
public:
    FilmWriter(const std::string& path, const FilmWriterOptions& options);
    ~FilmWriter();
    FilmWriter(const FilmWriter&) = delete;
    FilmWriter& operator=(const FilmWriter&) = delete;
    /// Packed 8-bit RGB, width*height*3 bytes. Throws FilmError (disk full, no encoder).
    void add(std::span<const std::uint8_t> rgb);
    void finish();

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

} // namespace ropeline
