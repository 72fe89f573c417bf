// Inside src/sheet: what the season's charts are put together from.
#pragma once

#include "sheet/scene.h"

#include <string>
#include <vector>

namespace ropeline::chart {

constexpr double text_size = 0.030, small_size = 0.026, thin = 0.002, thick = 0.006;

/// Where figures lie on the picture.
struct Scale {
    double low = 0.0, high = 1.0; ///< figures
    double from = 0.0, to = 1.0;  ///< the picture
    double operator()(double value) const { return from + (to - from) * (value - low) / (high - low); }
};

/// Round figures within low..high, about so many.
std::vector<double> ticks(double low, double high, int about = 5);

void write(Scene& scene, ScenePoint at, std::string text, Anchor anchor = Anchor::start, Ink ink = Ink::text,
           double size = small_size, bool strong = false);
void line(Scene& scene, ScenePoint from, ScenePoint to, double width = thin, Ink ink = Ink::rule);
void box(Scene& scene, ScenePoint from, ScenePoint to, Ink ink);

enum class Shape { ring, disc, square, diamond, triangle };
/// Centred, about `size` across; a filled shape, or its outline.
void shape(Scene& scene, ScenePoint at, Shape shape, Ink ink, bool filled = true, double size = 0.022);

/// What the pointer finds there: the shot, or these words.
void stands_for_shot(Scene& scene, ScenePoint at, const std::string& shot_id, double reach = 0.016);
void stands_for(Scene& scene, ScenePoint at, std::string words, double reach = 0.02);

/// A level stroke from low to high with a mark at the value.
void level_whisker(Scene& scene, double y, double low, double value, double high, Shape mark, Ink ink);

} // namespace ropeline::chart
