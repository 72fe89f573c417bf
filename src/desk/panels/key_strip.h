// The strip of keys at the foot of the desk. A click on one does what its key does.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/state/key_strip.h"

namespace ropeline {

void draw_key_strip(const Panel& panel, KeyStrip strip);

} // namespace ropeline
