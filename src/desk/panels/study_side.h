// The Study side: the queue of decisions that were not right; the card of one as the goalie calls it.
#pragma once

#include "desk/log_part.h"
#include "desk/panels/pieces.h"
#include "desk/season_part.h"
#include "desk/study_part.h"

namespace ropeline {

void draw_study_queue(const Panel& panel, const LogState& log, const SeasonPart& season, StudyPart& study);
void draw_study_card(const Panel& panel, const LogPart& part, const StudyTurn& turn);

} // namespace ropeline
