#include "desk/log_part.h"

#include <utility>

namespace ropeline {

bool view_again(LogPart& log, std::int64_t frame_seen, ImageSize image, LengthUnit unit) {
    const TurnOf now{log.state().revision, frame_seen, image, log.tried, unit};
    if (!log.viewed || !(log.view.of == now)) {
        TurnView view = turn_view(log.state(), now);
        if (log.viewed) take_firmness(log.state(), log.view, view);
        log.viewed = true;
        log.view = std::move(view);
        log.undo_name = log.book->file().undo_name().value_or("");
    } else if (!log.drag && !log.trying) {
        work_out_firmness(log.state(), log.view);
    }
    return log.view.judged && !log.view.firmness_known && !log.drag && !log.trying;
}

} // namespace ropeline
