// Films that our own writer does not make: of fields, or of frames at uneven times.
#pragma once

#include "camera/image_point.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <span>

namespace ropeline {

struct FilmEncoding {
    ImageSize size;
    int crf = 27;
    bool interlaced = false; ///< top field first
    double jitter = 0.0;     ///< as in `Filming`
};

/// Encoded by the command line of FFmpeg from pictures of packed RGB, 30 a second, key frames six seconds apart.
/// Throws  std::runtime_error when that fails.
void encode(const std::filesystem::path& path, const FilmEncoding& how, int frames,
            const std::function<std::span<const std::uint8_t>(int frame)>& picture);

/// One picture of packed RGB as a PNG file.
void write_picture(const std::filesystem::path& path, ImageSize size, std::span<const std::uint8_t> rgb);

} // namespace ropeline
