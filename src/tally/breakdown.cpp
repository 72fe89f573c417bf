#include "tally/breakdown.h"

#include "tally/decision.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace ropeline {
namespace {

/// Where a group stands among the others, and its words.
using GroupKey = std::pair<std::string, std::string>;

template <class Enum>
std::optional<GroupKey> of_word(const std::optional<Enum>& value) {
    if (!value) return std::nullopt;
    return GroupKey{fmt::format("{:03}", static_cast<int>(*value)), std::string{label_of(*value)}};
}

std::optional<GroupKey> of_detail(const ShotFact& fact, Detail detail) {
    const int choice = fact.details.of(detail);
    if (choice == 0) return std::nullopt;
    return GroupKey{fmt::format("{:03}", choice), std::string{label_of(fact.details, detail)}};
}

constexpr std::array distances_m{3, 6, 9, 12, 18};
constexpr std::array angles_deg{15, 30, 45, 60, 90};

/// Which edge is the first above the value.
std::ptrdiff_t step_of(double value, std::span<const int> edges) {
    return std::ranges::find_if(edges, [&](int edge) { return value < edge; }) - edges.begin();
}

/// Steps of a length or an angle: "5 to 10 m".
std::optional<GroupKey> of_step(const std::optional<double>& value, std::span<const int> edges,
                                std::string_view unit) {
    if (!value) return std::nullopt;
    const auto at = step_of(*value, edges);
    const auto above = edges.begin() + at;
    const std::string words = at == 0                ? fmt::format("under {} {}", edges.front(), unit)
                              : above == edges.end() ? fmt::format("{} {} or more", edges.back(), unit)
                                                     : fmt::format("{} to {} {}", *(above - 1), *above, unit);
    return GroupKey{fmt::format("{:03}", at), words};
}

std::string game_words(const ShotFact& fact) {
    std::string words = fact.game_date.empty() ? "no date" : fact.game_date;
    if (!fact.home_team.empty() || !fact.away_team.empty())
        words += fmt::format(", {} - {}", fact.home_team.empty() ? "?" : fact.home_team,
                             fact.away_team.empty() ? "?" : fact.away_team);
    return words;
}

std::optional<GroupKey> key_in(const ShotFact& fact, Cut cut, const std::map<Id, bool>& is_late) {
    switch (cut) {
    case Cut::depth:
        return of_word(decision_of(fact).band);
    case Cut::verdict:
        return of_word(decision_of(fact).verdict);
    case Cut::situation:
        return of_word(fact.situation);
    case Cut::strength:
        return of_word(fact.strength);
    case Cut::numbers:
        return of_detail(fact, Detail::numbers);
    case Cut::came:
        return of_word(what_came(fact));
    case Cut::distance:
        return of_step(shot_distance_m(fact), distances_m, "m");
    case Cut::angle:
        return of_step(shot_angle_deg(fact), angles_deg, "°");
    case Cut::sight:
        return of_detail(fact, Detail::sight);
    case Cut::released:
        return of_detail(fact, Detail::released);
    case Cut::period:
        if (!fact.period) return std::nullopt;
        return GroupKey{fmt::format("{:03}", *fact.period), *fact.period > 3
                                                                ? fmt::format("overtime {}", *fact.period - 3)
                                                                : fmt::format("period {}", *fact.period)};
    case Cut::month:
        if (fact.game_date.size() < 7) return std::nullopt;
        return GroupKey{fact.game_date.substr(0, 7), fact.game_date.substr(0, 7)};
    case Cut::half:
        if (!is_late.contains(fact.game_id)) return std::nullopt;
        return is_late.at(fact.game_id) ? GroupKey{"1", "second half"} : GroupKey{"0", "first half"};
    case Cut::game:
        return GroupKey{fact.game_date + fact.game_id, game_words(fact)};
    }
    return std::nullopt;
}

int step_number(const std::optional<double>& value, std::span<const int> edges) {
    return value ? static_cast<int>(step_of(*value, edges)) + 1 : 0;
}

/// What a shot is grouped by as a small number, where there is one: its words are put together once a number.
std::optional<int> number_in(const ShotFact& fact, Cut cut) {
    const auto of = [](const auto& value) { return value ? static_cast<int>(*value) + 1 : 0; };
    switch (cut) {
    case Cut::depth:
        return of(decision_of(fact).band);
    case Cut::verdict:
        return of(decision_of(fact).verdict);
    case Cut::situation:
        return of(fact.situation);
    case Cut::strength:
        return of(fact.strength);
    case Cut::numbers:
        return fact.details.of(Detail::numbers);
    case Cut::came:
        return of(what_came(fact));
    case Cut::sight:
        return fact.details.of(Detail::sight);
    case Cut::released:
        return fact.details.of(Detail::released);
    case Cut::period:
        return of(fact.period);
    case Cut::distance:
        return step_number(shot_distance_m(fact), distances_m);
    case Cut::angle:
        return step_number(shot_angle_deg(fact), angles_deg);
    case Cut::month:
    case Cut::half:
    case Cut::game:
        return std::nullopt;
    }
    return std::nullopt;
}

/// The groups found so far, by number; by game, whose shots follow each other, where the game says it.
class KnownGroups {
public:
    Counts*& of(const ShotFact& fact, Cut cut) {
        const bool by_game = cut == Cut::month || cut == Cut::half || cut == Cut::game;
        if (by_game && before_ && before_->game_id == fact.game_id && before_->game_date == fact.game_date)
            return last_;
        before_ = &fact;
        const auto number = number_in(fact, cut);
        if (!number || *number < 0 || *number >= static_cast<int>(by_number_.size())) {
            last_ = nullptr;
            return last_;
        }
        return by_number_[static_cast<std::size_t>(*number)];
    }

private:
    std::array<Counts*, 32> by_number_{};
    const ShotFact* before_ = nullptr;
    Counts* last_ = nullptr;
};

constexpr std::array<std::pair<std::string_view, std::string_view>, cut_count> cut_words{
    {{"depth_at_decision", "depth at the decision"},
     {"verdict", "verdict on the depth"},
     {"situation", "situation"},
     {"strength", "strength"},
     {"numbers", "numbers"},
     {"came", "what came"},
     {"distance", "distance of the shot"},
     {"angle", "angle of the shot, off straight out"},
     {"sight", "sight"},
     {"released", "how it was released"},
     {"period", "period"},
     {"month", "month"},
     {"half", "half of the season"},
     {"game", "game"}}};

/// Dates and ids of the games, in order; no date comes first.
std::vector<std::pair<std::string, Id>> dated_games(std::span<const ShotFact> facts) {
    std::vector<std::pair<std::string, Id>> games;
    for (const ShotFact& fact : facts)
        if (games.empty() || games.back().second != fact.game_id)
            games.emplace_back(fact.game_date, fact.game_id);
    std::ranges::sort(games);
    games.erase(std::unique(games.begin(), games.end()), games.end());
    return games;
}

} // namespace

std::string_view key_of(Cut cut) {
    return cut_words.at(static_cast<std::size_t>(cut)).first;
}

std::string_view label_of(Cut cut) {
    return cut_words.at(static_cast<std::size_t>(cut)).second;
}

std::vector<Id> games_by_date(std::span<const ShotFact> facts) {
    std::vector<Id> ids;
    for (auto& [date, id] : dated_games(facts))
        ids.push_back(std::move(id));
    return ids;
}

std::map<Id, bool> second_half_games(std::span<const ShotFact> facts) {
    auto games = dated_games(facts);
    std::erase_if(games, [](const auto& game) { return game.first.empty(); });
    std::map<Id, bool> is_late;
    for (std::size_t i = 0; i < games.size(); ++i)
        is_late[games[i].second] = 2 * i >= games.size();
    return is_late;
}

std::vector<Group> groups(std::span<const ShotFact> facts, Cut cut) {
    const auto is_late = cut == Cut::half ? second_half_games(facts) : std::map<Id, bool>{};
    std::map<GroupKey, Counts> counted;
    Counts not_known;
    KnownGroups known;
    for (const ShotFact& fact : facts) {
        Counts*& group = known.of(fact, cut);
        if (!group) {
            const auto key = key_in(fact, cut, is_late);
            group = key ? &counted[*key] : &not_known;
        }
        add_to(*group, fact);
    }
    std::vector<Group> made;
    for (auto& [key, counts] : counted)
        made.push_back({key.second, counts});
    if (not_known.logged > 0) made.push_back({"not known", not_known});
    return made;
}

} // namespace ropeline
