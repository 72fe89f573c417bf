#include "desk/log_part.h"

namespace ropeline {

void view_again(LogPart& log, std::int64_t frame_seen, ImageSize image) {
    const TurnOf now{log.state().revision, frame_seen, image, log.tried};
    if (log.viewed && log.view.of == now) return;
    log.viewed = true;
    log.view = turn_view(log.state(), now);
    log.undo_name = log.book->file().undo_name().value_or("");
}

} // namespace ropeline
