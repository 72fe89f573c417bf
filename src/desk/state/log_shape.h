// What the Log side is about: the film, the marks of a shot, the moment they make, or the rink.
#pragma once

#include "desk/state/layout.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// A moment is opened once goalie and puck are marked and the hand asks for nothing more.
LogShape log_shape(const LogState& state);

} // namespace ropeline
