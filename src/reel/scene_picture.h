// A chart as a PNG file, for who cannot use an SVG: the same scene on the same white paper.
#pragma once

#include "sheet/scene.h"

#include <string>

namespace ropeline {

/// The file's bytes.
/// Throws  std::bad_alloc
std::string png_of(const Scene& scene, int width_px = 1600);

} // namespace ropeline
