// What a season asks of a shot that no row of choices can say.
#pragma once

#include "desk/pages.h"
#include "desk/panels/pieces.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// The mouth of the net as the shooter sees it: a click sets where the puck went, the chosen part is filled.
void draw_net_places(const Panel& panel, const Goalie* goalie, int chosen, bool focused);
/// What is typed: tags, shooter, drill.
void draw_shot_texts(const Panel& panel, const LogState& log, const ShotEntry& entry, float label_width,
                     CardEntry& typed);

} // namespace ropeline
