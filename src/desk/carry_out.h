// What the actions of a turn do.
#pragma once

#include "desk/app.h"

namespace ropeline {

/// In order. What is asked for meanwhile, while progress is drawn, waits for the next turn.
void carry_out_actions(App& app);

} // namespace ropeline
