// The rink from above.
#pragma once

#include "desk/log_part.h"
#include "desk/panels/pieces.h"
#include "desk/state/study.h"

namespace ropeline {

/// Live positions while logging; the goalie can be dragged to be tried elsewhere.
void draw_plan(const Panel& panel, LogPart& part);
/// The play without the goalie until he is placed by a click.
void draw_study_plan(const Panel& panel, const LogPart& part, const StudyTurn& turn);
/// Landmarks and curves to pick while fitting; the plan lies as the film does.
void draw_fit_plan(const Panel& panel, const FitDraft& fit, const TurnView& view);

} // namespace ropeline
