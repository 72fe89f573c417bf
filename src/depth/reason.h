// A decision in one sentence, in words of the trade, with the figures it rests on.
#pragma once

#include "depth/flip.h"

#include <span>
#include <string>

namespace ropeline {

enum class LengthUnit { metres, feet };

/// Why the verdict is what it is: "Over-challenged: 2.10 m out, 0.62 m more than advised, and the one-timer
/// on the far side is 0.31 s too far away; from 1.48 m it could be reached."
/// In      `flips` of the same moment: the nearest is added, with the range it lies in and where that is
/// from;
///         none adds that the verdict holds over every stated range. Without a verdict the sentence says what
///         is missing, and the advice where there is one.
std::string reason_for(const MarkedMoment& moment, const Decision& decision, std::span<const Flip> flips,
                       Level level, LengthUnit unit = LengthUnit::metres);

/// Why the advised depth is what it is: "As far out as 1.48 m: the one-timer on the far side could not be
/// reached from further out."
std::string advice_for(const MarkedMoment& moment, const Advice& advice,
                       LengthUnit unit = LengthUnit::metres);

} // namespace ropeline
