// Over film and crease: the verdict in words and how far out he stood, to be read from two metres.
#pragma once

#include "desk/log_part.h"
#include "desk/panels/pieces.h"

namespace ropeline {

void draw_headline(const Panel& panel, const LogPart& part);

} // namespace ropeline
