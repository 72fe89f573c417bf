// Where a picture shows painted lines and which way they run there: what cameras are tried against by the
// thousand.
#pragma once

#include <opencv2/core.hpp>

#include <array>
#include <cstddef>
#include <cstdint>

namespace ropeline {

constexpr std::size_t line_ways =
    4; ///< across, falling, down, rising: each takes what runs within 33 degrees

/// Which way a line with this direction in the picture runs.
std::size_t way_of(float right, float down);

/// By way: how near the next line is that runs so, 127 on it, less what is usual thereabouts, so that a crowd
/// or letters count for nothing.
struct LineMap {
    std::array<cv::Mat1b, line_ways> near; ///< of signed bytes
    double scale = 0.25;                   ///< of the map against the film

    int at(std::size_t way, int x, int y) const { return static_cast<std::int8_t>(near[way].ptr(y)[x]); }
};

/// What a stretch of painted line counts for: nothing where it is too thin to be seen, less where its neighbours
/// crowd upon it.
/// In      its width in pixels of the film, and how far apart it and the next lie in pixels of the map.
inline float weight_of(float width_px, float apart_px) {
    constexpr float seen_px = 0.6F, crowded_px = 2.0F;
    if (width_px < seen_px) return 0.0F;
    return apart_px < crowded_px ? apart_px / crowded_px : 1.0F;
}

/// Straightened: a camera without lens sees these lines.
struct LineMaps {
    LineMap rough, coarse, fine; ///< pixels of eight, four and two of the film's where that is 1280 wide
    int pixels = 0;              ///< of lines, 640 to the picture's width
};

/// In      `radial` of the film's lens.
LineMaps line_maps(const cv::Mat& grey, double radial);

} // namespace ropeline
