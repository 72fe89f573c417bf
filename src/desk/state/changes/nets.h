// Turning a shot to the net at the other end.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const TurnEnds& turn);

/// A goalie stands nearer to the net he defends.
void warn_of_far_net(const LogContext& log, const ShotEntry& entry, const Moment& moment);

} // namespace ropeline
