// The game clock: what is typed at a frame, whistles, going to a game clock.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const SetClock& set);
void handle(LogContext& log, const TurnClock& turn);
void handle(LogContext& log, const GoToClock& go);

/// A shot whose clock nobody typed shows what its film's clock marks say.
void follow_clock(const LogState& state, Shot& shot);

} // namespace ropeline
