// The season's level of play and the figures behind the model: a change works every shot out again.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const SetLevel& set);
void handle(LogContext& log, const SetParameter& set);

} // namespace ropeline
