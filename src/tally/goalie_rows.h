// Every goalie of a season on one line, to be laid beside the others.
#pragma once

#include "season/records.h"
#include "tally/band_table.h"
#include "tally/shrinkage.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

struct GoalieRow {
    Id goalie_id;
    std::string goalie, team;
    int games = 0;
    Counts counts;
    Share right_depth; ///< of the plays with a verdict; beaten across is no fault of its moment and stays out
    Share read_it;     ///< of the calls on what was a shot or a pass
    std::optional<double> given_away_a_game; ///< whole nets; none without a play that has advice
    std::optional<Shrunk> shrunk; ///< goals of unblocked attempts drawn towards all; none with one goalie
};

/// One a goalie, by name; shots without a goalie are left out.
std::vector<GoalieRow> goalie_rows(std::span<const ShotFact> facts);

enum class GoalieColumn {
    goalie,
    team,
    shots, ///< logged
    goals,
    save_share,
    right_depth,
    read_it,
    given_away,
    shrunk,
};
constexpr int goalie_columns = 9;

struct GoalieOrder {
    GoalieColumn by = GoalieColumn::goalie;
    bool falling = false;
    friend bool operator==(const GoalieOrder&, const GoalieOrder&) = default;
};
/// The order after a click on a column's head: by it, the way most are asked for it; by the same one again: the other way.
GoalieOrder clicked(GoalieOrder order, GoalieColumn column);

/// Places of `rows` in that order; what is not known stands last, whichever way round, equal ones by name.
std::vector<std::size_t> ordered(std::span<const GoalieRow> rows, const GoalieOrder& order);

} // namespace ropeline
