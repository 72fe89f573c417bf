// The loupe under the hand: the picture eight times as large, so that a mark is exact to a quarter pixel.
#pragma once

#include "desk/film_texture.h"
#include "desk/panels/film_overlay.h"

namespace ropeline {

/// Beside the mouse; `at` is the spot of the picture in its middle.
void draw_loupe(const Canvas& on, const FilmTexture& texture, const LogPart& part, ImagePoint at);

} // namespace ropeline
