// What is drawn over the picture, and what of it the mouse can take.
#pragma once

#include "desk/log_part.h"
#include "desk/panels/pieces.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace ropeline {

/// A mark or a landmark click, as something to take hold of.
struct Handle {
    std::optional<std::size_t> mark, click; ///< which of the moment's marks, or of the fit's clicks
    MarkKind kind{};
    ImagePoint at;
    bool on_curve = false; ///< a click anywhere on a curve
};
std::vector<Handle> handles_of(const LogState& log, std::int64_t frame);

/// What is drawn on, and where on it the picture lies.
struct Canvas {
    const Look& look;
    const FilmView& view;
    ImDrawList* draw;
};
/// `to_be_marked`: the marks of the moment before are offered, faint.
void draw_overlay(const Canvas& on, const LogPart& part, std::int64_t frame, bool to_be_marked);
/// The paint of the rink where the fit that is being made has it; nothing while there is none.
void draw_fitted_paint(const Canvas& on, const FitDraft& fit);

} // namespace ropeline
