// What a goalie answered in Study.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const KeepAnswer& keep);

} // namespace ropeline
