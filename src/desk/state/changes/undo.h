// Taking changes back, and doing them again.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const Undo& undo);
void handle(LogContext& log, const Redo& redo);

} // namespace ropeline
