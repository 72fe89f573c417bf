// The loupe under the hand. For a mark the picture is eight times as large, so that it is exact to a quarter pixel; for a
// landmark it takes in a whole spot, with the paint where the fit has it.
#pragma once

#include "desk/film_texture.h"
#include "desk/panels/film_overlay.h"

namespace ropeline {

/// Beside the mouse and beside the net; `at` is the spot of the picture in its middle.
void draw_loupe(const Canvas& on, const FilmTexture& texture, const LogPart& part, ImagePoint at);

} // namespace ropeline
