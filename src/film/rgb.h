// Decoded pictures as packed RGB, for reels, still images and image search.
#pragma once

#include <cstdint>
#include <vector>

#include "film/film_facts.h"
#include "film/picture.h"

namespace ropeline {

struct RgbPicture {
    int width_px = 0, height_px = 0;
    std::vector<std::uint8_t> bytes; ///< packed 8-bit RGB, width*height*3
};

/// The picture in RGB, turned upright and scaled to the size asked for; 0x0 keeps the size a coach sees
/// (square pixels, FilmFacts::shown_width_px). Colours as the film's own matrix and range say.
RgbPicture rgb_of(const Picture& picture, const FilmFacts& facts, int width_px = 0, int height_px = 0);

/// The same small, each pixel the mean of those it stands for: to look at many. Its height as its width asks for, but
/// no more than four times that: a strip of a film may be a thousand times as tall as wide.
RgbPicture small_rgb_of(const Picture& picture, const FilmFacts& facts, int width_px);

/// The same quickly, for a screen that no graphics card draws: four bytes a pixel (the last is 255), at its
/// decoded size and not turned, colour taken from the nearest sample. `rgba` is given the size it needs, a few
/// bytes more than the picture's, and can be used again.
void quick_rgba_of(const Picture& picture, const FilmFacts& facts, std::vector<std::uint8_t>& rgba);

} // namespace ropeline
