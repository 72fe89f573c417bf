// The Study side: the list of decisions, one of them as the goalie calls it, how a sitting went.
#pragma once

#include "desk/export_part.h"
#include "desk/film_stage.h"
#include "desk/log_part.h"
#include "desk/panels/pieces.h"
#include "desk/state/settings.h"
#include "desk/study_part.h"

namespace ropeline {

/// What is asked, by whom and how: study_list.cpp
void draw_study_list(const Panel& panel, const LogState& log, const Settings& settings, StudyPart& study,
                     const ExportPart& exports);
/// The call, then what came of it: study_card.cpp
void draw_study_card(const Panel& panel, const LogPart& part, const Settings& settings,
                     const StudyPart& study);
/// The stretch of film that may be seen, and no more: study_ribbon.cpp
void draw_study_ribbon(const Panel& panel, FilmStage& stage, const LogPart& part, const StudyTurn& turn);
/// How this sitting and the ones before it went: study_sum_page.cpp
void draw_study_sum(const Panel& panel, const Settings& settings, const StudyPart& study);

} // namespace ropeline
