// What the moment says in figures.
#pragma once

#include "desk/log_part.h"
#include "desk/panels/pieces.h"

namespace ropeline {

void draw_reading(const Panel& panel, const LogPart& part);

} // namespace ropeline
