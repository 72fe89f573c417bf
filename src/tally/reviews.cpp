#include "tally/reviews.h"

#include "tally/decision.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>

namespace ropeline {
namespace {

constexpr double same_within_s = 2.0;

bool could_be_same(const ShotFact& a, const ShotFact& b) {
    if (a.period && b.period && a.period != b.period) return false; // films of a game each begin at 0 s
    if (a.game_id == b.game_id) return true;
    return !a.game_date.empty() &&
           std::tie(a.game_date, a.home_team, a.away_team) == std::tie(b.game_date, b.home_team, b.away_team);
}

/// -1: not said.
using SaysNumber = int (*)(const ShotFact&);

template <class Value>
int number_of(const std::optional<Value>& value) {
    return value ? static_cast<int>(*value) : -1;
}

struct ReviewedWord {
    const char* label;
    int words;
    SaysNumber says;
};

constexpr std::array<ReviewedWord, 5> reviewed_words{
    {{"what came", 4, [](const ShotFact& fact) { return number_of(fact.came); }},
     {"situation", 6, [](const ShotFact& fact) { return number_of(fact.situation); }},
     {"outcome", 7, [](const ShotFact& fact) { return number_of(fact.outcome); }},
     {"sight", 3, [](const ShotFact& fact) { return fact.details.of(Detail::sight) - 1; }},
     {"verdict", 8, [](const ShotFact& fact) { return number_of(decision_of(fact).verdict); }}}};

double decision_depth(const ShotFact& fact) {
    return fact.pass ? fact.pass->depth_m : *fact.depth_m;
}

} // namespace

std::vector<SameShot> same_shots(std::span<const ShotFact> first, std::span<const ShotFact> second) {
    std::vector<SameShot> made;
    std::vector<bool> taken_first(first.size()), taken_second(second.size());
    const auto take = [&](std::size_t i, std::size_t j) {
        taken_first[i] = taken_second[j] = true;
        made.push_back({i, j});
    };
    std::map<Id, std::size_t> by_id;
    for (std::size_t j = 0; j < second.size(); ++j)
        by_id[second[j].shot_id] = j;
    for (std::size_t i = 0; i < first.size(); ++i)
        if (const auto found = by_id.find(first[i].shot_id); found != by_id.end()) take(i, found->second);
    // The rest by time: all pairs that could be the same, the nearest first.
    std::vector<std::tuple<double, std::size_t, std::size_t>> near;
    std::multimap<double, std::size_t> by_time;
    for (std::size_t j = 0; j < second.size(); ++j)
        if (!taken_second[j]) by_time.emplace(second[j].film_s, j);
    for (std::size_t i = 0; i < first.size(); ++i) {
        if (taken_first[i]) continue;
        const auto last = by_time.upper_bound(first[i].film_s + same_within_s);
        for (auto at = by_time.lower_bound(first[i].film_s - same_within_s); at != last; ++at)
            if (could_be_same(first[i], second[at->second]))
                near.emplace_back(std::abs(at->first - first[i].film_s), i, at->second);
    }
    std::ranges::sort(near);
    for (const auto& [apart, i, j] : near)
        if (!taken_first[i] && !taken_second[j]) take(i, j);
    std::ranges::sort(made, {}, &SameShot::first);
    return made;
}

ReviewAgreement agreement_of(std::span<const ShotFact> first, std::span<const ShotFact> second) {
    const auto pairs = same_shots(first, second);
    ReviewAgreement made;
    made.pairs = static_cast<int>(pairs.size());
    made.only_first = static_cast<int>(first.size()) - made.pairs;
    made.only_second = static_cast<int>(second.size()) - made.pairs;
    for (const ReviewedWord& word : reviewed_words) {
        std::vector<int> table(static_cast<std::size_t>(word.words * word.words));
        for (const auto& [i, j] : pairs) {
            const int one = word.says(first[i]), other = word.says(second[j]);
            if (one >= 0 && other >= 0) ++table[static_cast<std::size_t>(one * word.words + other)];
        }
        if (const auto kappa = cohens_kappa(table, word.words)) made.words.push_back({word.label, *kappa});
    }
    for (const auto& [i, j] : pairs)
        if (decision_of(first[i]).band && decision_of(second[j]).band) {
            made.depths_m.emplace_back(decision_depth(first[i]), decision_depth(second[j]));
            made.depth_shots.push_back(first[i].shot_id);
        }
    made.depth_m = bland_altman(made.depths_m);
    return made;
}

} // namespace ropeline
