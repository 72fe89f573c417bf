// What of the text on the desk can be read: every glyph that was drawn, against what it was clipped to.
#pragma once

#include "desk/state/layout.h"

#include <string>
#include <vector>

namespace ropeline::test {

struct DrawnText {
    std::vector<std::string> cut; ///< "plan: a glyph runs over its right edge", one for each window and kind
    float tallest_in_headline_px = 0.0F;
    std::size_t glyphs = 0;
};

/// Of the frame that was rendered last. A glyph is cut when its quad leaves what the graphics card clips it to, or when
/// ImGui has trimmed it; words are lost in a window whose content is larger than it and that shows no scroll bar; and
/// they cannot be read where two of them stand on one another. At the edge a window scrolls over, cutting is allowed.
DrawnText drawn_text();

} // namespace ropeline::test
