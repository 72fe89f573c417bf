// Which shots a question is asked of. The desk's Season side and its shot list hold the same one.
#pragma once

#include "season/counted_play.h"
#include "season/records.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

/// A rectangle of ice, as it is drawn over the plan.
struct IceArea {
    IcePoint low, high; ///< corners: the lesser of both lengths, the greater
    bool holds(IcePoint at) const {
        return at.x_m >= low.x_m && at.x_m <= high.x_m && at.y_m >= low.y_m && at.y_m <= high.y_m;
    }
    friend bool operator==(const IceArea&, const IceArea&) = default;
};

/// Empty: all. Names as a coach types them: capitals do not matter, in any script.
struct FactFilter {
    Id goalie_id{};               ///< this one, whatever he is called
    std::string goalie{}, team{}; ///< team: the goalie's own
    std::string from{}, to{};     ///< dates of games, both included
    std::optional<Situation> situation{};
    std::optional<NextAction> came{};
    std::optional<Verdict> verdict{}; ///< that the play is counted by
    bool goals = false;               ///< only what went in
    std::optional<IceArea> area{};    ///< where the shot came from

    bool asks_nothing() const { return *this == FactFilter{}; }
    friend bool operator==(const FactFilter&, const FactFilter&) = default;
};

bool passes(const FactFilter& filter, const ShotFact& fact);
// The parts of it that shots can be asked which are only counted; verdict, goals and area are none of them.
bool passes_day(const FactFilter& filter, std::string_view date); ///< of the game
bool passes_goalie(const FactFilter& filter, const CountedGoalie& goalie);
bool passes_play(const FactFilter& filter, const CountedPlay& play);

std::vector<ShotFact> filtered(std::span<const ShotFact> facts, const FactFilter& filter);

/// Several seasons as one: a shot that is in two of them counts once (the first one's), and a goalie of the same name and
/// team as one of a season before is the same goalie. Two of one season stay two.
std::vector<ShotFact> together(std::vector<std::vector<ShotFact>> seasons);

/// Games of the same date and teams that two seasons hold under different ids, so that laid together they count twice:
/// "2026-11-25, Saltmarsh Herons - Otter Bay". A season's own two games of one day stay out of it.
std::vector<std::string> games_under_two_ids(const std::vector<std::vector<ShotFact>>& seasons);

} // namespace ropeline
