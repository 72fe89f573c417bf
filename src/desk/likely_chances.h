// Where the chances of the film on the desk are likely to be: looks the film through once, keeps what is found.
#pragma once

#include "desk/app.h"

namespace ropeline {

/// Begins to look the open film through where the season does not have all of it; takes what is found.
void look_for_chances(App& app);

} // namespace ropeline
