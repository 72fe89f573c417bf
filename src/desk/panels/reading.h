// What the moment says in figures.
#pragma once

#include "desk/log_part.h"
#include "desk/look.h"

namespace ropeline {

/// Into the panel that is open.
void draw_figures(const Look& look, const LogPart& part);

} // namespace ropeline
