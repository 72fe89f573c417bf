// The season cut along one line: how often each kind of chance went in.
#pragma once

#include "season/records.h"
#include "tally/band_table.h"

#include <array>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

enum class Cut {
    depth, ///< the band at the decision
    verdict,
    situation,
    strength,
    numbers,
    came,
    distance, ///< of the shot
    angle,
    sight,
    released,
    period,
    month,
    half, ///< of the games, by date
    game,
};
constexpr int cut_count = 14;
/// As a column's key, "depth_at_decision", and as a coach reads it, "depth at the decision".
std::string_view key_of(Cut cut);
std::string_view label_of(Cut cut);

struct Group {
    std::string label; ///< "not known" where the shots do not say
    Counts counts;
};

/// The groups in the order a coach expects (the field's own, else by number or date), "not known" last; none is empty.
std::vector<Group> groups(std::span<const ShotFact> facts, Cut cut);

/// Ids of the games by date, those without a date first.
std::vector<Id> games_by_date(std::span<const ShotFact> facts);

/// The games that belong to the second half of the season (true) or to the first; a game without a date to neither.
std::map<Id, bool> second_half_games(std::span<const ShotFact> facts);

} // namespace ropeline
