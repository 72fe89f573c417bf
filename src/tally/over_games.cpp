#include "tally/over_games.h"

#include "tally/breakdown.h"
#include "tally/decision.h"
#include "tally/logistic.h"
#include "tally/special.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace ropeline {
namespace {

struct Sums {
    int count = 0;
    double sum = 0.0, squares = 0.0;

    void add(double value) {
        ++count;
        sum += value;
        squares += value * value;
    }
};

GivenAway given_away_of(std::string label, const Sums& sums) {
    GivenAway made{std::move(label), sums.count, sums.sum, 0.0, {}};
    if (sums.count == 0) return made;
    made.mean = sums.sum / sums.count;
    if (sums.count < 3) return made;
    const double variance =
        std::max(0.0, sums.squares - sums.count * made.mean * made.mean) / (sums.count - 1);
    const double half = student_t_quantile(sums.count - 1, 0.975) * std::sqrt(variance / sums.count);
    made.mean_interval = Interval{made.mean - half, made.mean + half};
    return made;
}

/// The odds of a goal by the number of the game, in tens of games.
void add_trend(OverGames& made, std::size_t games, const std::vector<std::pair<double, bool>>& attempts) {
    const auto goals = std::ranges::count_if(attempts, [](const auto& one) { return one.second; });
    if (games < 4 || goals < 5) return;
    LogisticData data{2, {}, {}, {}};
    for (const auto& [game, goal] : attempts)
        data.add({1.0, game / 10.0}, goal);
    const LogisticFit fit = fit_logistic(data, Penalty::firth);
    if (!fit.converged) return;
    const Interval interval = attempts.size() <= 5'000
                                  ? profile_interval(data, fit, Penalty::firth, 1)
                                  : Interval{fit.beta[1] - normal_975 * fit.standard_error(1),
                                             fit.beta[1] + normal_975 * fit.standard_error(1)};
    made.odds_ten_games_on = std::exp(fit.beta[1]);
    made.odds_interval = {std::exp(interval.low), std::exp(interval.high)};
}

void add_halves(OverGames& made, const std::map<Id, bool>& is_late) {
    for (const GameLine& game : made.games) {
        const auto found = is_late.find(game.game_id);
        if (found == is_late.end()) continue;
        Share& half = found->second ? made.second_half : made.first_half;
        half.hits += game.counts.goals;
        half.of += game.counts.unblocked;
    }
    if (made.first_half.of > 0 && made.second_half.of > 0)
        made.half_difference = newcombe_difference(made.second_half, made.first_half);
}

} // namespace

OverGames over_games(std::span<const ShotFact> facts) {
    OverGames made;
    std::map<Id, std::size_t> place;
    for (const Id& id : games_by_date(facts)) {
        place[id] = made.games.size();
        made.games.push_back({id, {}, {}, {}});
    }
    const auto is_late = second_half_games(facts);
    std::vector<Sums> by_game(made.games.size());
    std::map<int, Sums> by_situation;
    Sums all;
    std::vector<std::pair<double, bool>> attempts;
    for (const ShotFact& fact : facts) {
        const std::size_t game = place.at(fact.game_id);
        made.games[game].date = fact.game_date;
        add_to(made.games[game].counts, fact);
        const auto goal = was_goal(fact);
        if (goal && is_late.contains(fact.game_id)) attempts.emplace_back(static_cast<double>(game), *goal);
        const auto gave = decision_of(fact).gave_away;
        if (!gave) continue;
        by_game[game].add(*gave);
        all.add(*gave);
        by_situation[fact.situation ? static_cast<int>(*fact.situation) : 99].add(*gave);
    }
    for (std::size_t i = 0; i < made.games.size(); ++i)
        made.games[i].given_away = given_away_of(made.games[i].date, by_game[i]);
    for (const auto& [situation, sums] : by_situation)
        made.by_situation.push_back(given_away_of(
            situation == 99 ? "not known" : std::string{label_of(static_cast<Situation>(situation))}, sums));
    made.all = given_away_of("all", all);
    if (!made.games.empty()) made.nets_a_game = all.sum / static_cast<double>(made.games.size());
    add_trend(made, is_late.size(), attempts);
    add_halves(made, is_late);
    return made;
}

} // namespace ropeline
