// Games and goalies of the season.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const NewGame& wanted);
void handle(LogContext& log, const NewGoalie& wanted);
void handle(LogContext& log, const BeginSeason& season);
void handle(LogContext& log, const ReopenAt& to);
void handle(LogContext& log, const ChooseGame& choose);

} // namespace ropeline
