// Everything a season's page says, worked out once from its shots. Pure: the same shots give the same figures, on any
// thread.
#pragma once

#include "tally/band_table.h"
#include "tally/breakdown.h"
#include "tally/coming_out.h"
#include "tally/goal_chance.h"
#include "tally/over_games.h"
#include "tally/shrinkage.h"

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

/// The decision and the outcome, never one from the other.
struct DecisionByOutcome {
    Share right, wrong; ///< goals of unblocked attempts after the right depth, and after any other verdict
    std::optional<Difference> difference; ///< wrong less right
    double exact_p = 1.0;                 ///< Fisher, two-sided
};
/// Beaten across is no fault of its moment, and what was not judged is no verdict: both are left out.
DecisionByOutcome decision_by_outcome(std::span<const ShotFact> facts);

/// A goalie's goals of unblocked attempts, drawn towards those of all by as much as chance asks.
struct GoalieLine {
    Id goalie_id;
    std::string goalie, team;
    Counts counts;
    std::optional<Shrunk> shrunk; ///< none with less than two goalies
};
std::vector<GoalieLine> goalie_lines(std::span<const ShotFact> facts);

struct CutGroups {
    Cut cut{};
    std::vector<Group> groups;
};

struct SeasonTally {
    Counts total;
    int games = 0;
    ComingOut on_shots, on_passes;
    std::array<Counts, 4> bands_on_shots, bands_on_passes; ///< at the decision, order of Band
    DecisionByOutcome decisions;
    OverGames over_games;
    std::optional<GoalChance> goal_chance;
    std::vector<GoalieLine> goalies;
    std::vector<CutGroups> cuts; ///< every Cut, in order
};

SeasonTally tally_season(std::span<const ShotFact> facts);

} // namespace ropeline
