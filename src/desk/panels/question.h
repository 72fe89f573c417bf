// The one open question of the card, and what is answered in words.
#pragma once

#include "desk/log_part.h"
#include "desk/pages.h"
#include "desk/panels/pieces.h"

namespace ropeline {

/// A line under film and crease.
void draw_question(const Panel& panel, const LogState& log, Pages& pages);
/// The same beside the film while something is still to be marked: what to click stands over it.
void draw_marking(const Panel& panel, const LogPart& part, Pages& pages);

} // namespace ropeline
