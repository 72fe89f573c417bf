// The puck's eye: the goal mouth as the puck on the ice sees it.
#pragma once

#include "depth/parameters.h"
#include "depth/reading.h"
#include "desk/look.h"
#include "desk/state/layout.h"
#include "rink/rule_book.h"

namespace ropeline {

/// With a block of the width and height in `parameters` where the goalie stands.
void draw_puck_eye(const Look& look, ImDrawList* draw, const Rect& place, const Stance& stance, IcePoint puck,
                   const RuleBook& rules, const Parameters& parameters);

} // namespace ropeline
