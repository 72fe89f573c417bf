// While the rink is fitted on a frame, a fit of it from its paint alone is worked out beside.
#pragma once

#include "desk/app.h"

namespace ropeline {

/// Begins with a fit in the making that has no clicks yet, offers what was found, gives up with that fit. A frame is
/// asked for once.
void propose_rink(App& app);

} // namespace ropeline
