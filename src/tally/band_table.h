// What a season says about each goalie, by depth band.
#pragma once

#include "season/counted_play.h"
#include "season/records.h"
#include "tally/difference.h"
#include "tally/proportion.h"

#include <array>
#include <span>
#include <vector>

namespace ropeline {

/// Counts over some shots. The words are those of the NCAA statisticians' manual 2020-21, sec. 4: a shot is
/// any try towards the net (goal, save, post, miss, block); a shot on goal ends only as a save or a goal.
struct Counts {
    int logged = 0; ///< every row, also a chance that ended without a shot or has no outcome yet
    int shots = 0;
    int unblocked = 0; ///< shots but blocks: what reached the net or went wide of it
    int on_goal = 0;
    int goals = 0;

    int saves() const { return on_goal - goals; }
    /// Saves / shots on goal; nothing without a shot on goal.
    std::optional<double> save_percentage() const;
    /// Wilson's 95 % interval of it.
    std::optional<Interval> interval() const;
    /// Goals of unblocked attempts: a goalie who leaves nothing to aim at is missed, too.
    Share goals_of_unblocked() const { return {goals, unblocked}; }
    Share goals_of_on_goal() const { return {goals, on_goal}; }
};

Counts count(std::span<const ShotFact> facts);
void add_to(Counts& counts, const ShotFact& fact);

/// A shot that was called a shot, a pass that was called a pass; nothing when neither came or nothing was called.
std::optional<bool> read_it(const std::optional<Read>& call, const std::optional<NextAction>& came);

/// Decisions by Verdict. A shot has one, a play that was passed two: at the pass and at the shot.
struct VerdictCounts {
    std::array<int, 8> model{};    ///< as the model judged them, order of Verdict
    std::array<int, 8> reviewed{}; ///< the same decisions, the reviewer's word before the model's
    int overruled = 0;             ///< how many the reviewer put another verdict on
};

/// The goalie's calls against what came, apart from the verdicts on the depth.
struct CallCounts {
    int read_it = 0, misread_it = 0;
};

struct GoalieTable {
    Id goalie_id; ///< empty: shots whose goalie is not named
    std::string goalie, team;
    std::array<Counts, 4> by_band; ///< order of Band
    Counts without_depth;
    Counts total;
    VerdictCounts verdicts;
    CallCounts calls;
};

/// One table a goalie, by name; shots without a goalie last.
std::vector<GoalieTable> band_tables(std::span<const ShotFact> facts);
std::vector<GoalieTable> band_tables(const CountedShots& shots);

} // namespace ropeline
