// The two nets of one rink: which of them a shot's goalie defends.
#pragma once

#include "desk/state/frame_at.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// Which net a new shot's goalie defends: the only one in the picture, else by the last shot on this film the
/// net of his team then, other way round for the other team or after an odd number of periods, since teams
/// change ends each period (rule books, from memory).
bool likely_far_net(const LogState& state, const Shot& fresh, ImageSize image);

} // namespace ropeline
