// Where a picture shows painted lines and which way they run there: what cameras are tried against by the
// thousand.
#pragma once

#include <opencv2/core.hpp>

#include <array>
#include <cstddef>
#include <cstdint>

namespace ropeline {

constexpr std::size_t line_ways = 4; ///< across, falling, down, rising: each takes what runs within 33 degrees

/// Which way a line with this direction in the picture runs.
std::size_t way_of(float right, float down);

/// By way: how near the next line is that runs so, 127 on it, less what is usual thereabouts, so that a crowd
/// or letters count for nothing.
struct LineMap {
    std::array<cv::Mat1b, line_ways> near; ///< of signed bytes
    double scale = 0.25;                   ///< of the map against the film

    int at(std::size_t way, int x, int y) const {
        return static_cast<std::int8_t>(near[way].ptr(y)[x]);
    }
};

/// Straightened: a camera without lens sees these lines.
struct LineMaps {
    LineMap rough, coarse, fine; ///< pixels of eight, four and two of the film's where that is 1280 wide
};

/// In      `radial` of the film's lens.
LineMaps line_maps(const cv::Mat& grey, double radial);

} // namespace ropeline
