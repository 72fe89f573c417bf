// The stretch of the film that is run over and over.
#pragma once

#include "desk/state/frame_at.h"
#include "desk/state/log_state.h"
#include "film/frame_table.h"

namespace ropeline {

/// Film times from well before the open shot's first moment on the film on screen to what came of its last one there;
/// around frame `now` when it has none there.
FilmSpan loop_span(const LogState& state, const FrameTable& frames, FrameIndex now);

} // namespace ropeline
