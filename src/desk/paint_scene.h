// Paints a chart scene on the screen, in the desk's own colours.
#pragma once

#include "desk/look.h"
#include "sheet/scene.h"

namespace ropeline {

/// `width` pixels wide from `at`; returns the height used.
float paint_scene(ImDrawList* draw, const Look& look, ImVec2 at, float width, const Scene& scene);

} // namespace ropeline
