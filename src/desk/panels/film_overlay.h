// What is drawn over the picture, and what of it the mouse can take.
#pragma once

#include "desk/panels/ui.h"

namespace ropeline {

/// A mark or a landmark click, as something to take hold of.
struct Handle {
    std::optional<std::size_t> mark, click; ///< which of the moment's marks, or of the fit's clicks
    MarkKind kind{};
    ImagePoint at;
    bool on_curve = false; ///< a click anywhere on a curve
};
std::vector<Handle> handles_of(const LogState& log, std::int64_t frame);

void draw_overlay(const App& app, ImDrawList* draw);

} // namespace ropeline
