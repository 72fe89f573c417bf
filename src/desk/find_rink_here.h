// Where the film stands still on a frame that no fit was followed to, the rink is looked for in it.
#pragma once

#include "desk/app.h"

namespace ropeline {

/// Begins, takes what was found, and asks for a frame once as long as the film's fits are the same.
void find_rink_here(App& app);

} // namespace ropeline
