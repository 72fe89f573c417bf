// How the overlay looks that is burnt into reels and stills, in the desk's ink: one place for colours, widths and dashes.
// A line lies on white ice and on dark crowd, so each has an edge of its own; a line that means trouble is also dashed, so
// that colour never says it alone.
#pragma once

#include "rink/paint.h"
#include "sheet/ice_drawing.h"
#include "sheet/overlay_ink.h"

namespace ropeline {

struct OverlayColour {
    double red = 0.0, green = 0.0, blue = 0.0, alpha = 1.0;
};
constexpr OverlayColour overlay_colour(int red, int green, int blue, double alpha = 1.0) {
    return {red / 255.0, green / 255.0, blue / 255.0, alpha};
}
constexpr OverlayColour overlay_colour(InkColour ink, double alpha = 1.0) {
    return overlay_colour(ink.red, ink.green, ink.blue, alpha);
}

constexpr OverlayColour overlay_ground = overlay_colour(10, 18, 26);
constexpr OverlayColour overlay_text = overlay_colour(240, 245, 249);
constexpr OverlayColour overlay_quiet = overlay_colour(178, 196, 210);
constexpr OverlayColour overlay_rope = overlay_colour(overlay_ink);
constexpr OverlayColour overlay_late = overlay_colour(late_ink);
constexpr OverlayColour overlay_late_edge = overlay_colour(late_rim);
constexpr OverlayColour overlay_advised = overlay_colour(96, 190, 255);
constexpr OverlayColour overlay_trouble = overlay_colour(255, 122, 84);
constexpr OverlayColour overlay_red_paint = overlay_colour(226, 78, 74);
constexpr OverlayColour overlay_blue_paint = overlay_colour(72, 136, 226);
constexpr OverlayColour overlay_boards = overlay_colour(150, 168, 184);

/// Widths are in thousandths of the picture's height.
struct OverlayStroke {
    OverlayColour colour;
    double width = 0.0;
    double edge = 0.0;   ///< to either side
    double dash_m = 0.0; ///< length on the ice; 0: a whole line
    OverlayColour edge_colour = overlay_colour(overlay_rim, 0.75);
};

constexpr OverlayColour with_alpha(OverlayColour colour, double alpha) {
    return {colour.red, colour.green, colour.blue, alpha};
}

/// A line that is not drawn has no width.
constexpr OverlayStroke stroke_of(IceLineKind kind) {
    switch (kind) {
    case IceLineKind::rope:
        return {overlay_rope, 3.0, 1.2, 0.0};
    case IceLineKind::puck_line:
        return {with_alpha(overlay_text, 0.9), 1.8, 1.0, 0.25};
    case IceLineKind::band:
        return {}; // the advised stretch lies there
    case IceLineKind::depth:
        return {overlay_text, 3.4, 1.2, 0.0};
    case IceLineKind::off_angle:
        return {overlay_trouble, 3.4, 1.2, 0.0};
    case IceLineKind::stance:
        return {overlay_text, 3.0, 1.2, 0.0};
    case IceLineKind::block:
        return {overlay_rope, 5.0, 1.4, 0.0};
    case IceLineKind::shadow:
        return {overlay_ground, 9.0, 1.0, 0.0};
    case IceLineKind::opening:
        return {overlay_trouble, 9.0, 1.2, 0.0};
    case IceLineKind::pass:
        return {overlay_advised, 3.2, 1.2, 0.0};
    case IceLineKind::lost_pass:
        return {overlay_late, 3.6, 1.6, 0.45, overlay_late_edge};
    case IceLineKind::advised:
        return {with_alpha(overlay_advised, 0.6), 16.0, 0.0, 0.0};
    case IceLineKind::advised_end:
        return {overlay_advised, 4.0, 1.4, 0.0};
    }
    return {};
}

/// Of the rink's own paint, drawn over the film's.
constexpr OverlayStroke stroke_of(PaintKind kind) {
    switch (kind) {
    case PaintKind::blue_line:
        return {with_alpha(overlay_blue_paint, 0.6), 2.2, 0.0, 0.0};
    case PaintKind::boards:
    case PaintKind::net:
        return {with_alpha(overlay_boards, 0.6), 1.8, 0.0, 0.0};
    case PaintKind::goal_line:
    case PaintKind::crease:
    case PaintKind::red_line:
    case PaintKind::circle:
    case PaintKind::spot:
    case PaintKind::hash:
    case PaintKind::l_mark:
    case PaintKind::trapezoid:
        break;
    }
    return {with_alpha(overlay_red_paint, 0.6), 2.0, 0.0, 0.0};
}

} // namespace ropeline
