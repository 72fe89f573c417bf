#include "tally/season_tally.h"

#include "tally/decision.h"

namespace ropeline {

DecisionByOutcome decision_by_outcome(std::span<const ShotFact> facts) {
    DecisionByOutcome made;
    for (const ShotFact& fact : facts) {
        const auto goal = was_goal(fact);
        const auto verdict = decision_of(fact).verdict;
        if (!goal || !verdict || !is_answer_to_depth(*verdict)) continue;
        add_to(*verdict == Verdict::right_depth ? made.right : made.wrong, *goal);
    }
    if (made.right.of > 0 && made.wrong.of > 0) {
        made.difference = newcombe_difference(made.wrong, made.right);
        made.exact_p = fisher_exact(made.wrong, made.right).two_sided;
    }
    return made;
}

std::vector<GoalieLine> goalie_lines(std::span<const ShotFact> facts) {
    std::vector<GoalieLine> lines;
    std::vector<Share> shares;
    for (const GoalieTable& table : band_tables(facts)) {
        if (table.goalie_id.empty()) continue;
        lines.push_back({table.goalie_id, table.goalie, table.team, table.total, {}});
        shares.push_back(table.total.goals_of_unblocked());
    }
    if (const auto spread = spread_of(shares))
        for (std::size_t i = 0; i < lines.size(); ++i)
            lines[i].shrunk = shrunk(shares[i], *spread);
    return lines;
}

SeasonTally tally_season(std::span<const ShotFact> facts) {
    SeasonTally made;
    made.total = count(facts);
    made.on_shots = coming_out(facts, NextAction::shot);
    made.on_passes = coming_out(facts, NextAction::pass);
    for (const ShotFact& fact : facts) {
        const auto band = decision_of(fact).band;
        const auto came = what_came(fact);
        if (!band || !came) continue;
        auto& bands = came == NextAction::pass ? made.bands_on_passes : made.bands_on_shots;
        add_to(bands.at(static_cast<std::size_t>(*band)), fact);
    }
    made.decisions = decision_by_outcome(facts);
    made.over_games = over_games(facts);
    made.games = static_cast<int>(made.over_games.games.size());
    made.goal_chance = goal_chance(facts);
    made.goalies = goalie_lines(facts);
    for (int cut = 0; cut < cut_count; ++cut)
        made.cuts.push_back({static_cast<Cut>(cut), groups(facts, static_cast<Cut>(cut))});
    return made;
}

} // namespace ropeline
