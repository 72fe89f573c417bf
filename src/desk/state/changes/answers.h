// What a goalie answered in Study.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const KeepAnswer& keep);
void handle(LogContext& log, const TakeAnswers& take);
void handle(LogContext& log, const TakeBackAnswers& take);

} // namespace ropeline
