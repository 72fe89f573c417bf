// When a decision comes back: what was answered wrong after 1, 3, 7, 16 and 35 days, what was right fades.
#pragma once

#include "season/season_file.h"

#include <array>
#include <set>
#include <span>
#include <string>

namespace ropeline {

/// Days from an answer to the next time. Expanding gaps recall as much at the end as equal ones and more on the way.
/// Source  Cepeda et al. 2008 for the size of the gaps (a tenth to a third of how long it is to last), Kang et al. 2014 for
///         expanding; these five are our own choice, not tested.
inline constexpr std::array come_back_days = {1, 3, 7, 16, 35};

/// Call or place is wrong.
bool answered_wrong(const Answer& answer);

/// Puts the day each answer brings the decision back on. Wrong: in a day, from the start again. Right: after the next
/// longer gap, and never again after the longest, nor when it was never wrong. Right before it was due leaves the day as
/// it was: only what was waited for counts.
/// In      one person's answers of one decision, the oldest first.
void put_due_days(std::span<Answer> answers);

/// The same for all that a person answered to these decisions, in the file.
void put_due_days(SeasonFile& file, const std::set<Id>& moment_ids, const std::string& answered_by);

} // namespace ropeline
