// How firm a verdict is: many parameters are ranges from memory, so the model says where inside the stated
// range the verdict would be another one.
#pragma once

#include "depth/verdict.h"

#include <string_view>
#include <vector>

namespace ropeline {

struct Flip {
    std::string_view parameter; ///< its key
    double value = 0.0;         ///< where the verdict changes, in the parameter's unit
    Verdict becomes{};          ///< just beyond it
    double share = 0.0;         ///< of the way from the value in force to the end of the stated range, 0..1
};

/// Parameters that change the verdict inside their stated range, each taken alone, the nearest first (by
/// share). Empty: the verdict holds over every stated range, or there is no verdict.
/// In      `level` picks the stated ranges; a value in force outside its range is only led towards it.
/// Source  the parameter table. Resolution: 16 steps a side, then bisected to 1e-6 of the way.
std::vector<Flip> find_flips(const MarkedMoment& moment, const RuleBook& rules, const Parameters& parameters,
                             Level level);

} // namespace ropeline
