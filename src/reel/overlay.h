// What is burnt into a picture of the film: the rink over its ice, and for a moment its lines, marks, words and the puck's eye.
#pragma once

#include "film/yuv.h"
#include "reel/drawing.h"
#include "reel/shown_play.h"

#include <string>

namespace ropeline {

/// Where the film's picture lies on what is drawn on: pixels of the shown film to pixels there.
struct OnCanvas {
    double x_px = 0.0, y_px = 0.0; ///< its top left corner
    double scale = 1.0;
    double height_px = 0.0; ///< of what is drawn on: widths and letters go by it
    ImageSize film;

    ImagePoint operator()(ImagePoint at) const { return {x_px + at.x_px * scale, y_px + at.y_px * scale}; }
};
OnCanvas on_canvas(const YuvPlace& place, ImageSize film, double height_px);

void draw_rink(cairo_t* pen, const OnCanvas& on, const RinkFit& fit, RuleBookId rules);
/// Rink, lines with their labels, marks. Nothing where the moment has no fit.
void draw_moment(cairo_t* pen, const OnCanvas& on, const ShownMoment& shown);

/// A box in pixels of what is drawn on.
struct Box {
    double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
};
void draw_puck_eye(cairo_t* pen, const Box& box, const PuckEye& eye);

/// Puck's eye in the top right corner of `room`, what and when at its top left, the words along its foot.
void draw_words(cairo_t* pen, const Box& room, const ShownPlay& play, const ShownMoment& shown,
                bool with_note);

/// A card that stands before a shot or the reel: a large line and a smaller one below it.
void draw_card(cairo_t* pen, const Box& room, const std::string& heading, const std::string& below);

} // namespace ropeline
