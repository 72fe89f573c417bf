// What the overlay over the film is drawn with, on the desk as in reels and stills. Ice is white, paint red and blue, boards
// grey: the ink is none of these, to no kind of eye. A test in tests/desk holds how far apart they are.
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

namespace ropeline {

struct InkColour {
    std::uint8_t red = 0, green = 0, blue = 0;
};

constexpr InkColour overlay_ink{244, 186, 0}; ///< amber: what is marked and measured
constexpr InkColour overlay_rim{10, 14, 20};  ///< about it, so that it stands on white ice and on logos
constexpr InkColour late_ink{64, 10, 44};     ///< dark plum: a pass the goalie is late for
constexpr InkColour late_rim{255, 238, 196};  ///< about it

/// The stretches that are inked of a line so long: a long dash, a gap, a dot, a gap, and again. Nothing painted on the
/// ice is broken that way.
std::vector<std::pair<double, double>> inked_stretches(double length, double dash);

} // namespace ropeline
