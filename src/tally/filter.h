// Which shots a question is asked of.
#pragma once

#include "season/records.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

/// Empty: all. Names as a coach types them: capitals do not matter.
struct FactFilter {
    std::string goalie, team; ///< team: the goalie's own
    std::string from, to;     ///< dates of games, both included
    std::optional<Situation> situation;
    std::optional<NextAction> came;
};

bool passes(const FactFilter& filter, const ShotFact& fact);
std::vector<ShotFact> filtered(std::span<const ShotFact> facts, const FactFilter& filter);

/// Several seasons as one: a shot that is in two of them counts once (the first one's), and a goalie of the same name and
/// team as one of a season before is the same goalie. Two of one season stay two.
std::vector<ShotFact> together(std::vector<std::vector<ShotFact>> seasons);

} // namespace ropeline
