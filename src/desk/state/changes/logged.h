// What a coach logs beside the card's own lines, and what the season asks for.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const TurnDetail& turn);
void handle(LogContext& log, const JoinRebound& join);
void handle(LogContext& log, const WriteShotText& write);
void handle(LogContext& log, const TurnAsk& turn);
void handle(LogContext& log, const NameReviewer& name);
void handle(LogContext& log, const MeasureGoalie& measure);

/// Sets the 1-based choice, or clears it when it is set already; of the moment in hand or the open shot.
void choose_detail(LogContext& log, Detail detail, int number);

} // namespace ropeline
