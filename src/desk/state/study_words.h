// What Study says: beside the cursor on the plan, and once the answer is there.
#pragma once

#include "depth/reason.h"
#include "desk/state/study.h"

#include <string>

namespace ropeline {

/// "4.9 ft out (5 skate lengths), 0.7 ft off the puck line"
std::string place_read_out(IcePoint place, IcePoint puck, LengthUnit unit);

/// "Read it: a pass came."
std::string call_words(const Answer& answer);

/// "Right place: 22 % of the net left open from there, 21 % from the best place."
std::string place_words(const PlaceWorth& worth);

/// "It comes back tomorrow.", "It comes back on 2026-12-04.", "It does not come back."
std::string due_words(const Answer& answer, const std::string& day);

} // namespace ropeline
