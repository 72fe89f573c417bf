#include "tally/goalie_rows.h"

#include "tally/decision.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace ropeline {
namespace {

struct GoalieSums {
    std::set<Id> games;
    double given_away = 0.0;
    bool has_advice = false;
};

void add_play(GoalieRow& row, GoalieSums& sums, const ShotFact& fact) {
    sums.games.insert(fact.game_id);
    add_to(row.counts, fact);
    const CountedDecision decision = decision_of(fact);
    if (decision.verdict && is_answer_to_depth(*decision.verdict))
        add_to(row.right_depth, decision.verdict == Verdict::right_depth);
    if (const auto right = read_it(fact.read, fact.came)) add_to(row.read_it, *right);
    if (decision.gave_away) {
        sums.given_away += *decision.gave_away;
        sums.has_advice = true;
    }
}

std::optional<double> known_share(Share share) {
    if (share.of == 0) return std::nullopt;
    return static_cast<double>(share.hits) / share.of;
}

std::optional<double> number_in(const GoalieRow& row, GoalieColumn column) {
    switch (column) {
    case GoalieColumn::goalie:
    case GoalieColumn::team:
        return std::nullopt;
    case GoalieColumn::shots:
        return row.counts.logged;
    case GoalieColumn::goals:
        return row.counts.goals;
    case GoalieColumn::save_share:
        return row.counts.save_percentage();
    case GoalieColumn::right_depth:
        return known_share(row.right_depth);
    case GoalieColumn::read_it:
        return known_share(row.read_it);
    case GoalieColumn::given_away:
        return row.given_away_a_game;
    case GoalieColumn::shrunk:
        return row.shrunk ? std::optional{row.shrunk->share} : std::nullopt;
    }
    return std::nullopt;
}

const std::string& text_in(const GoalieRow& row, GoalieColumn column) {
    return column == GoalieColumn::team ? row.team : row.goalie;
}

} // namespace

std::vector<GoalieRow> goalie_rows(std::span<const ShotFact> facts) {
    std::map<Id, std::pair<GoalieRow, GoalieSums>> by_id;
    for (const ShotFact& fact : facts) {
        if (fact.goalie_id.empty()) continue;
        auto& [row, sums] = by_id[fact.goalie_id];
        if (row.goalie_id.empty()) {
            row.goalie_id = fact.goalie_id;
            row.goalie = fact.goalie;
            row.team = fact.team;
        }
        add_play(row, sums, fact);
    }
    std::vector<GoalieRow> rows;
    std::vector<Share> shares;
    for (auto& [id, one] : by_id) {
        auto& [row, sums] = one;
        row.games = static_cast<int>(sums.games.size());
        if (sums.has_advice) row.given_away_a_game = sums.given_away / row.games;
        rows.push_back(std::move(row));
    }
    std::ranges::sort(rows, {}, [](const GoalieRow& row) { return std::tie(row.goalie, row.goalie_id); });
    for (const GoalieRow& row : rows)
        shares.push_back(row.counts.goals_of_unblocked());
    if (const auto spread = spread_of(shares))
        for (std::size_t i = 0; i < rows.size(); ++i)
            rows[i].shrunk = shrunk(shares[i], *spread);
    return rows;
}

GoalieOrder clicked(GoalieOrder order, GoalieColumn column) {
    if (order.by == column) return {column, !order.falling};
    const bool best_is_low = column == GoalieColumn::goalie || column == GoalieColumn::team ||
                             column == GoalieColumn::given_away || column == GoalieColumn::shrunk;
    return {column, !best_is_low};
}

std::vector<std::size_t> ordered(std::span<const GoalieRow> rows, const GoalieOrder& order) {
    std::vector<std::size_t> places(rows.size());
    for (std::size_t i = 0; i < places.size(); ++i)
        places[i] = i;
    const bool words = order.by == GoalieColumn::goalie || order.by == GoalieColumn::team;
    std::ranges::stable_sort(places, [&](std::size_t i, std::size_t j) {
        const std::size_t first = order.falling ? j : i, second = order.falling ? i : j;
        if (words) return text_in(rows[first], order.by) < text_in(rows[second], order.by);
        if (number_in(rows[i], order.by).has_value() != number_in(rows[j], order.by).has_value())
            return number_in(rows[i], order.by).has_value();
        return number_in(rows[first], order.by) < number_in(rows[second], order.by);
    });
    return places;
}

} // namespace ropeline
