// The marks of the moment before are followed through the film into the frame that is being marked.
#pragma once

#include "desk/app.h"

namespace ropeline {

/// Begins where the film stands still on a frame that lacks marks, and offers what was found, each frame once. True
/// while it is awaited.
bool follow_marks(App& app);

} // namespace ropeline
