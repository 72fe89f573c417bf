// What is burnt into a picture of the film: the rink over its ice, and for a moment its lines, marks, words and the puck's eye.
#pragma once

#include "film/yuv.h"
#include "reel/drawing.h"
#include "reel/overlay_room.h"

#include <string>

namespace ropeline {

OnCanvas on_canvas(const YuvPlace& place, ImageSize film, double height_px);

void draw_rink(cairo_t* pen, const OnCanvas& on, const RinkFit& fit, RuleBookId rules);

struct MomentParts {
    bool lines = true; ///< rink, lines with their labels, marks; none where the moment has no fit
    bool words = true; ///< puck's eye, what and when, verdict and advice
    bool note = true;  ///< the coach's, among the words
};
/// In      `room`: for the words; the film's picture lies in it or fills it.
void draw_moment(cairo_t* pen, const OnCanvas& on, const Box& room, const ShownPlay& play,
                 const ShownMoment& shown, const MomentParts& parts);

/// Puck's eye in a corner at the head, what and when in the other, the words along the foot, or where they cover less of
/// `keep_clear`.
/// Out     the boxes that are covered now.
std::vector<Box> draw_words(cairo_t* pen, const Box& room, const ShownPlay& play, const ShownMoment& shown,
                            bool with_note, const std::vector<Box>& keep_clear);

/// A card that stands before a shot or the reel: a large line and a smaller one below it.
void draw_card(cairo_t* pen, const Box& room, const std::string& heading, const std::string& below);

} // namespace ropeline
