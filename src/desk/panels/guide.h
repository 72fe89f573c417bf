// The first ten minutes: what to do next, and what is done already.
#pragma once

#include "desk/look.h"
#include "desk/state/guide.h"
#include "desk/state/layout.h"

namespace ropeline {

void draw_guide(const Look& look, const Rect& place, const Guide& guide, const LogState& log,
                std::size_t answers);

} // namespace ropeline
