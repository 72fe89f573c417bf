// What is known of a film without decoding it, and what it lacks.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "film/frame_table.h"

namespace ropeline {

class Source;

enum class ColourMatrix { bt601, bt709, bt2020 };

struct FilmFacts {
    std::string path, container, codec, pixel_format;
    int width_px = 0, height_px = 0;             ///< of the decoded planes, cropped, not rotated
    int shown_width_px = 0, shown_height_px = 0; ///< with square pixels and rotation: what a coach sees
    int sample_aspect_numerator = 1, sample_aspect_denominator = 1;
    int rotation_degrees = 0; ///< clockwise turn needed to show the picture upright: 0, 90, 180, 270
    TimeBase time_base;
    double average_rate_hz = 0.0;
    ColourMatrix matrix{};
    bool full_range = false;
    bool interlaced = false; ///< two fields a frame, as the stream says
    bool top_field_first = true;
    bool has_sound = false;
    int picture_streams = 1; ///< more than one: choose by FilmOptions::stream
    std::uint64_t file_bytes = 0;
    std::string fingerprint;           ///< content fingerprint, hex; independent of the path
    std::vector<std::string> warnings; ///< one line each: truncated, missing frames ...
};

/// A place where the film lacks pictures: between two neighbours, or over a stretch of frames that cannot be
/// decoded.
struct FilmHole {
    FrameIndex first{}, last{};
    std::int64_t lost_frames = 0;
    std::string why; ///< one line
};

FilmFacts facts_of(const Source& source);

/// Name and version of what reads films here ("libavformat 59.27.100"): kept beside an index.
std::string film_library();

} // namespace ropeline
