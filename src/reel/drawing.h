// Cairo and Pango behind a few words: a surface with a pen, lines, and text of any script.
#pragma once

#include "reel/overlay_look.h"

#include <cairo.h>

#include <memory>
#include <string_view>

namespace ropeline {

struct FreeSurface {
    void operator()(cairo_surface_t* owned) const noexcept { cairo_surface_destroy(owned); }
};
struct FreePen {
    void operator()(cairo_t* owned) const noexcept { cairo_destroy(owned); }
};
using Surface = std::unique_ptr<cairo_surface_t, FreeSurface>;
using Pen = std::unique_ptr<cairo_t, FreePen>;

/// See-through, four bytes a pixel, colours multiplied by their alpha. Throws std::bad_alloc.
Surface make_surface(int width_px, int height_px);
Pen make_pen(cairo_surface_t* surface);

void set_colour(cairo_t* pen, OverlayColour colour);
/// A rectangle with round corners, filled.
void fill_box(cairo_t* pen, double x, double y, double width, double height, double round,
              OverlayColour colour);

struct TextLook {
    double size_px = 16.0;
    OverlayColour colour = overlay_text;
    bool strong = false;
    double wrap_px = 0.0;   ///< lines are broken at this width; 0: one line
    bool in_middle = false; ///< each line in the middle of `wrap_px`
};
struct TextSize {
    double width_px = 0.0, height_px = 0.0;
};

// Any text is text: it is not read as markup, and what a font lacks another one lends.
TextSize text_size(cairo_t* pen, std::string_view text, const TextLook& look);
/// `x`, `y`: the top left corner. Returns the size.
TextSize draw_text(cairo_t* pen, double x, double y, std::string_view text, const TextLook& look);
/// The look with letters so much smaller that all of the text fits into this height, not below a third.
TextLook fitted_look(cairo_t* pen, std::string_view text, TextLook look, double height_px);

} // namespace ropeline
