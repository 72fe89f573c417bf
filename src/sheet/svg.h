// A scene as a file that a browser shows and a printer prints.
#pragma once

#include "sheet/scene.h"

namespace ropeline {

struct Rgb {
    std::uint8_t red = 0, green = 0, blue = 0;
};

/// The role's colour on white paper.
Rgb ink_on_paper(Ink ink);

/// SVG 1.1, whole, this many pixels wide when shown at its own size. Any text is safe: it is escaped, and
/// bytes that are no UTF-8 or that XML cannot hold become U+FFFD.
std::string write_svg(const Scene& scene, double width_px = 960.0);

} // namespace ropeline
