// Under the film: what the puck sees, the verdict with what it rests on, and each pass that could come.
#pragma once

#include "desk/log_part.h"
#include "desk/pages.h"
#include "desk/panels/pieces.h"

namespace ropeline {

void draw_decision(const Panel& panel, const LogPart& part, OverruleForm& form);

} // namespace ropeline
