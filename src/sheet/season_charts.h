// The season in pictures of our own. Each is as wide as half a page; clear shots are blue discs, passes brown diamonds.
#pragma once

#include "season/records.h"
#include "sheet/scene.h"
#include "tally/reviews.h"
#include "tally/season_tally.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

/// Where they shot from: the shape is the band at the decision, filled a goal. From 250 shots on six-cornered fields with
/// goals of unblocked attempts in them.
Scene shots_on_plan(std::span<const ShotFact> facts, const Season& season);
// Between a place of that picture and the ice.
IcePoint ice_on_plan(ScenePoint at, const Season& season);
ScenePoint place_on_plan(IcePoint at, const Season& season);

// In   beside: what stands next to it, so that both have one scale; null: nothing does.

/// Goals of unblocked attempts by the band at the decision, clear shots and passes apart, with Wilson's 95 %.
Scene goals_by_depth(const SeasonTally& tally, const SeasonTally* beside = nullptr);

/// Differences with their 95 %; the strip is what is not worth acting on.
Scene differences_chart(const SeasonTally& tally, const SeasonTally* beside = nullptr);

/// Goal chance against clearance with its 95 %, all else as in the middle of the season.
Scene goal_chance_chart(const GoalChance& chance);

/// What was given away a play, by situation, with its 95 %.
Scene given_away_chart(const OverGames& over, const OverGames* beside = nullptr);

/// Goals of unblocked attempts and nets given away, game by game.
Scene trend_chart(const OverGames& over, const OverGames* beside = nullptr);

/// Depths of two reviews: how far they are apart, against how far out he was.
Scene agreement_chart(const ReviewAgreement& agreement);

/// A chart with the name that its file has.
struct NamedChart {
    std::string name; ///< "shots_on_plan"
    Scene scene;
};

/// All of them that the shots have something for, in the order of the page.
std::vector<NamedChart> season_charts(std::span<const ShotFact> facts, const SeasonTally& tally,
                                      const Season& season,
                                      const std::optional<ReviewAgreement>& agreement = std::nullopt,
                                      const SeasonTally* beside = nullptr);

} // namespace ropeline
