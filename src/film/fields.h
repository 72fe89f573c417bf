// Interlaced film holds two moments in each frame, one in the even rows and one in the odd ones. Each can be
// shown alone.
#pragma once

#include "film/film_facts.h"
#include "film/picture.h"

namespace ropeline {

enum class Field { top, bottom };

/// The rows of one field, half as many: to be shown at the frame's own height. Shares the frame's memory.
PicturePtr field_of(const PicturePtr& frame, Field field);

/// The field that was in front of the camera first.
constexpr Field first_field(const FilmFacts& facts) {
    return facts.top_field_first ? Field::top : Field::bottom;
}

} // namespace ropeline
