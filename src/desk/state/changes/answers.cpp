#include "desk/state/changes/answers.h"

namespace ropeline {

void handle(LogContext& log, const KeepAnswer& keep) {
    Answer answer = keep.answer;
    log.file.put(answer);
    ++log.state.answers;
}

} // namespace ropeline
