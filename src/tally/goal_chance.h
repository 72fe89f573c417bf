// The chance of a goal from everything at once that the film says of the shot.
#pragma once

#include "season/records.h"
#include "tally/logistic.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

/// What one thing does to the odds of a goal with all the others held.
struct Influence {
    std::string label;      ///< "half a metre further out, on a clear shot"
    double odds = 1.0;      ///< the odds of a goal times this
    Interval odds_interval; ///< 95 %
};

/// Goal chance at one clearance, all else as in the middle of the season.
struct ChanceAt {
    double clearance_m = 0.0;
    Chance chance;
};

struct GoalChance {
    int attempts = 0, goals = 0, left_out = 0; ///< left out: without a depth, a place or what came
    std::vector<Influence> influences;
    std::vector<ChanceAt> on_shots, on_passes; ///< over the clearances that were seen
    bool from_profile = true;                  ///< false: so many attempts that Wald's intervals are the same
};

/// Firth's logistic regression of goal on clearance (on clear shots and on passes apart), off angle, distance, net angle,
/// pass and sight, over unblocked attempts; the curves with FLIC's constant and Wald's band, their other columns at
/// their middles. A sight that was not logged counts as clear. What never varies is left out.
/// Out     nothing with less than 30 attempts, 5 goals or 5 others, or where no fit is found.
/// Source  tally/logistic.h
std::optional<GoalChance> goal_chance(std::span<const ShotFact> facts);

} // namespace ropeline
