// Where words stand beside what they name: never over a mark, over one another, or outside the picture. Pure.
#pragma once

#include "desk/state/layout.h"

#include <optional>
#include <span>
#include <vector>

namespace ropeline {

struct LabelWish {
    ScreenPoint at; ///< what the words name
    float width = 0.0F, height = 0.0F;
};

/// In      `keep_clear`: goalie, skates, puck and whatever else must not be hidden; `step` is how far one try lies
///         beyond the one before, about half a line of text
/// Out     one place a wish, in their order: as near to what it names as there is room; none where there is none
std::vector<std::optional<Rect>> place_labels(const Rect& room, std::span<const LabelWish> wishes,
                                              std::span<const Rect> keep_clear, float step);

bool overlap(const Rect& one, const Rect& other);

} // namespace ropeline
