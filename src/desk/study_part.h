// Study on the desk: which decisions, and the one that is open.
#pragma once

#include "desk/state/study.h"

#include <optional>
#include <vector>

namespace ropeline {

struct StudyPart {
    StudyFilter filter;
    std::vector<ShotFact> queue;          ///< what the filter lets through, the newest game first
    std::optional<StudyFilter> queued_by; ///< the filter it was made with
    std::optional<StudyTurn> turn;        ///< the decision under study; none: the queue is shown
    bool running = false;                 ///< its run-up has begun
};

/// Makes the queue again when the filter is another one, or `facts_changed`.
void refresh_queue(StudyPart& study, const std::vector<ShotFact>& facts, bool facts_changed);

} // namespace ropeline
