#include "sheet/season_charts.h"

namespace ropeline {

std::vector<NamedChart> season_charts(std::span<const ShotFact> facts, const SeasonTally& tally,
                                      const Season& season, const std::optional<ReviewAgreement>& agreement,
                                      const SeasonTally* beside) {
    std::vector<NamedChart> charts;
    const OverGames* games_beside = beside ? &beside->over_games : nullptr;
    charts.push_back({"goals_by_depth", goals_by_depth(tally, beside)});
    charts.push_back({"differences", differences_chart(tally, beside)});
    charts.push_back({"shots_on_plan", shots_on_plan(facts, season)});
    if (tally.goal_chance) charts.push_back({"goal_chance", goal_chance_chart(*tally.goal_chance)});
    charts.push_back({"given_away", given_away_chart(tally.over_games, games_beside)});
    charts.push_back({"game_by_game", trend_chart(tally.over_games, games_beside)});
    if (agreement) charts.push_back({"two_reviews", agreement_chart(*agreement)});
    return charts;
}

} // namespace ropeline
