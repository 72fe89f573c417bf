// Another coach's season brought in: where the one season goes, what both changed, what came of it.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/unite_part.h"

namespace ropeline {

void draw_unite_page(const Panel& panel, UnitePart& part);

} // namespace ropeline
