// The figures behind the model, by level of play.
#pragma once

#include "desk/log_part.h"
#include "desk/pages.h"
#include "desk/panels/pieces.h"

namespace ropeline {

/// In the middle of the desk, which is its place.
void draw_parameters_page(const Panel& panel, const LogPart& part, ParameterEntry& entry);

} // namespace ropeline
