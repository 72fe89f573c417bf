// Marks on the moment in hand: where a click lands and what it changes.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const Arm& arm);
void handle(LogContext& log, const FilmClick& click);
void handle(LogContext& log, const TakeGhosts& take);
void handle(LogContext& log, const OfferFollowed& offer);
void handle(LogContext& log, const DragMark& drag);
void handle(LogContext& log, const HoldMark& hold);
void handle(LogContext& log, const Nudge& nudge);
void handle(LogContext& log, const TurnThreat& turn);
void handle(LogContext& log, const MoveGoalie& move);
void handle(LogContext& log, const PutDown& put_down);

void remove_held_mark(LogContext& log);

} // namespace ropeline
