// Shots get their place on the film: brought in from a list, put where the game clock says, or by hand.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const PlaceShotHere& place);
void handle(LogContext& log, const MoveShot& move);
void handle(LogContext& log, const BringIn& list);
void handle(LogContext& log, const PutOnFilm& found);

/// Marks of the release that a shot moved to another frame leaves behind: those made on its picture.
std::size_t marks_left_behind(const ShotEntry& entry);

/// Else says so.
bool has_its_place(const LogContext& log, const ShotEntry& entry);

} // namespace ropeline
