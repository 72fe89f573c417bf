// The season game by game: what was given away, and whether it gets better.
#pragma once

#include "season/records.h"
#include "tally/band_table.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

/// Net left open for want of depth. One play's share is of one net; a game's are summed.
struct GivenAway {
    std::string label; ///< a date, or a situation
    int plays = 0;     ///< with advice to compare with
    double sum = 0.0, mean = 0.0;
    std::optional<Interval> mean_interval; ///< 95 %, Student's t; none under three plays
};

struct GameLine {
    Id game_id;
    std::string date;
    Counts counts;
    GivenAway given_away;
};

struct OverGames {
    std::vector<GameLine> games; ///< by date
    std::vector<GivenAway> by_situation;
    GivenAway all;
    double nets_a_game = 0.0; ///< sum of all, a game
    // What follows is over the games that have a date.
    /// The odds of a goal ten games later, times this; none under four games or five goals.
    std::optional<double> odds_ten_games_on;
    Interval odds_interval; ///< 95 %, profile of the penalised likelihood
    Share first_half, second_half;
    std::optional<Difference> half_difference; ///< second less first, Newcombe
};

OverGames over_games(std::span<const ShotFact> facts);

} // namespace ropeline
