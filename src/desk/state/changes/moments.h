// The steps of one play: several moments of a shot, each with marks of its own.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const NewMoment& fresh);
void handle(LogContext& log, const PickMoment& pick);
void handle(LogContext& log, const PickMomentBy& by);
void handle(LogContext& log, const NextKind& next);
void handle(LogContext& log, const Overrule& overrule);

/// Unknown, then says shot, then says pass, then unknown again.
void turn_cue(LogContext& log, std::size_t cue);
void remove_moment(LogContext& log); ///< the one in hand

} // namespace ropeline
