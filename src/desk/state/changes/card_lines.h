// What is written on the shot card.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const Choose& choose);
void handle(LogContext& log, const ChooseIn& choose);
void handle(LogContext& log, const Focus& focus);
void handle(LogContext& log, const FocusBy& by);
void handle(LogContext& log, const WriteNote& note);
void handle(LogContext& log, const PutClock& clock);
void handle(LogContext& log, const PickGoalie& pick);
void handle(LogContext& log, const PutInNet& put);

} // namespace ropeline
