// What Study says: beside the cursor on the plan, and once the answer is there.
#pragma once

#include "depth/reason.h"
#include "desk/state/study.h"

#include <string>

namespace ropeline {

/// "4.9 ft out (5 skate lengths), 0.7 ft off the puck line"
std::string place_read_out(IcePoint place, IcePoint puck, LengthUnit unit);

/// "Read it: a pass came."
std::string call_words(const Answer& answer, std::optional<NextAction> came);

/// "Right place: 22 % of the net left open from there, 21 % from the best place; up to 3 % more is not worth acting on."
std::string place_words(const PlaceWorth& worth);

/// "2026-10-04  Pike – Otters  P2 14:07"; without a game clock "film 0:34" stands for it, so that two plays of a game are
/// told apart.
std::string play_words(const StudyDecision& decision);

/// "It comes back tomorrow.", "It comes back on 2026-12-04.", "Answered right: it is not asked again."
std::string due_words(const Answer& answer, const std::string& day);

/// Why a list has no decision, and what to do.
/// In      how many decisions the season has; the list as this filter left it.
std::string why_empty(std::size_t of_season, const StudyFilter& filter, const StudyQueue& queue);

} // namespace ropeline
