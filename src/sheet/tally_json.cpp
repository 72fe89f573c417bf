#include "sheet/tally_json.h"

#include "sheet/season_words.h"

#include <nlohmann/json.hpp>

#include <array>
#include <string>

namespace ropeline {
namespace {

using Json = nlohmann::json;

Json interval_json(const Interval& interval) {
    return {interval.low, interval.high};
}

Json share_json(Share share) {
    return {{"hits", share.hits},
            {"of", share.of},
            {"wilson_95", share.of == 0 ? Json() : interval_json(wilson(share.hits, share.of))}};
}

Json difference_json(const std::optional<Difference>& difference) {
    if (!difference) return nullptr;
    return {{"value", difference->value}, {"interval_95", interval_json(difference->interval)}};
}

Json coming_out_json(const ComingOut& asked) {
    constexpr std::array answers = {"fewer", "more", "no_matter", "not_enough"};
    return {{"base_or_beyond", share_json(asked.out)},
            {"inside", share_json(asked.inside)},
            {"difference", difference_json(asked.plain)},
            {"difference_within_like_plays", difference_json(asked.within_like_plays)},
            {"answer", answers.at(static_cast<std::size_t>(asked.answer))},
            {"attempts_needed", asked.attempts_needed ? Json(*asked.attempts_needed) : Json()}};
}

Json curve_json(const std::vector<ChanceAt>& curve) {
    Json made = Json::array();
    for (const ChanceAt& at : curve)
        made.push_back({{"clearance_m", at.clearance_m},
                        {"chance", at.chance.value},
                        {"interval_95", interval_json(at.chance.interval)}});
    return made;
}

Json goal_chance_json(const std::optional<GoalChance>& chance) {
    if (!chance) return nullptr;
    Json influences = Json::array();
    for (const Influence& one : chance->influences)
        influences.push_back(
            {{"of", one.label}, {"odds", one.odds}, {"interval_95", interval_json(one.odds_interval)}});
    return {{"attempts", chance->attempts},
            {"goals", chance->goals},
            {"left_out", chance->left_out},
            {"influences", influences},
            {"profile", chance->from_profile},
            {"on_clear_shots", curve_json(chance->on_shots)},
            {"on_passes", curve_json(chance->on_passes)}};
}

Json given_away_json(const GivenAway& given) {
    return {{"of", given.label},
            {"plays", given.plays},
            {"sum_nets", given.sum},
            {"mean_share", given.mean},
            {"interval_95", given.mean_interval ? interval_json(*given.mean_interval) : Json()}};
}

Json over_games_json(const OverGames& over) {
    Json games = Json::array();
    for (const GameLine& game : over.games)
        games.push_back({{"game_id", game.game_id},
                         {"date", game.date},
                         {"goals_of_unblocked", share_json(game.counts.goals_of_unblocked())},
                         {"given_away_nets", game.given_away.sum}});
    return {{"games", games},
            {"odds_ten_games_on", over.odds_ten_games_on ? Json(*over.odds_ten_games_on) : Json()},
            {"odds_interval_95", over.odds_ten_games_on ? interval_json(over.odds_interval) : Json()},
            {"first_half", share_json(over.first_half)},
            {"second_half", share_json(over.second_half)},
            {"half_difference", difference_json(over.half_difference)}};
}

Json goalies_json(const std::vector<GoalieLine>& goalies) {
    Json made = Json::array();
    for (const GoalieLine& line : goalies)
        made.push_back(
            {{"goalie_id", line.goalie_id},
             {"goalie", line.goalie},
             {"team", line.team},
             {"goals_of_unblocked", share_json(line.counts.goals_of_unblocked())},
             {"drawn_towards_all", line.shrunk ? Json{{"share", line.shrunk->share},
                                                      {"interval_95", interval_json(line.shrunk->interval)}}
                                               : Json()}});
    return made;
}

} // namespace

Json tally_json(const SeasonTally& tally) {
    Json cuts = Json::object(), given_away = Json::array();
    for (const CutGroups& cut : tally.cuts) {
        Json& rows = cuts[std::string{key_of(cut.cut)}] = Json::array();
        for (const Group& group : cut.groups)
            rows.push_back({{"group", group.label},
                            {"logged", group.counts.logged},
                            {"goals_of_unblocked", share_json(group.counts.goals_of_unblocked())},
                            {"goals_of_on_goal", share_json(group.counts.goals_of_on_goal())}});
    }
    for (const GivenAway& given : tally.over_games.by_situation)
        given_away.push_back(given_away_json(given));
    return {
        {"first_sentence", first_sentence(tally)},
        {"further_sentences", further_sentences(tally)},
        {"coming_out",
         {{"clear_shots", coming_out_json(tally.on_shots)}, {"passes", coming_out_json(tally.on_passes)}}},
        {"decisions",
         {{"right", share_json(tally.decisions.right)},
          {"wrong", share_json(tally.decisions.wrong)},
          {"difference", difference_json(tally.decisions.difference)},
          {"exact_p", tally.decisions.exact_p}}},
        {"goal_chance", goal_chance_json(tally.goal_chance)},
        {"given_away",
         {{"all", given_away_json(tally.over_games.all)},
          {"nets_a_game", tally.over_games.nets_a_game},
          {"by_situation", given_away}}},
        {"over_games", over_games_json(tally.over_games)},
        {"goalies", goalies_json(tally.goalies)},
        {"cuts", cuts}};
}

} // namespace ropeline
