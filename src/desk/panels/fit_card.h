// The card of a rink fit in the making.
#pragma once

#include "desk/log_part.h"
#include "desk/panels/pieces.h"
#include "desk/state/fit_draft.h"

namespace ropeline {

/// In      `proposing`: a fit is being worked out from the paint of its frame.
void draw_fit_card(const Panel& panel, const LogPart& part, const FitDraft& fit, bool proposing);

} // namespace ropeline
