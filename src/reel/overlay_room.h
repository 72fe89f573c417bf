// Where words and the puck's eye stand in a picture, so that they cover nobody who is marked. Pure.
#pragma once

#include "reel/shown_play.h"

#include <span>
#include <vector>

namespace ropeline {

/// Pixels of what is drawn on.
struct Box {
    double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
};

/// Where the film's picture lies on what is drawn on: pixels of the shown film to pixels there.
struct OnCanvas {
    double x_px = 0.0, y_px = 0.0; ///< its top left corner
    double scale = 1.0;
    double height_px = 0.0; ///< of what is drawn on: widths and letters go by it
    ImageSize film;

    ImagePoint operator()(ImagePoint at) const { return {x_px + at.x_px * scale, y_px + at.y_px * scale}; }
};

/// About everybody who is marked, as tall as a player; the puck's is its carrier's. Empty without a fit.
std::vector<Box> people_in(const OnCanvas& on, const ShownMoment& shown);

bool overlap(const Box& one, const Box& other);
/// Which of the boxes covers least of what is to be kept clear; the first of several.
/// In      `boxes`: one at least.
std::size_t clearest(std::span<const Box> boxes, std::span<const Box> keep_clear);

} // namespace ropeline
