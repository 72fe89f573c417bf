// Shots of the game: begun, picked, taken, removed; the list they stand in.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const NewShot& fresh);
void handle(LogContext& log, const PickShot& pick);
void handle(LogContext& log, const PickShotBy& by);
void handle(LogContext& log, const TakeShot& take);
void handle(LogContext& log, const RemoveShot& remove);
void handle(LogContext& log, const SortList& sort);
void handle(LogContext& log, const FilterList& list);
void handle(LogContext& log, const FilterFacts& facts);

} // namespace ropeline
