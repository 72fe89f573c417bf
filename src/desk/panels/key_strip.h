// The strip of keys at the foot of the desk.
#pragma once

#include "desk/look.h"
#include "desk/state/key_strip.h"
#include "desk/state/layout.h"

namespace ropeline {

void draw_key_strip(const Look& look, const Rect& place, KeyStrip strip);

} // namespace ropeline
