// Shots get their place on the film: brought in from a list, put where the game clock says, or by hand.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const PlaceShotHere& place);
void handle(LogContext& log, const BringIn& list);
void handle(LogContext& log, const PutOnFilm& found);

/// Else says so.
bool has_its_place(const LogContext& log, const ShotEntry& entry);

} // namespace ropeline
