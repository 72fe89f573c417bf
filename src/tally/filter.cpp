#include "tally/filter.h"

#include "tally/decision.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <utility>

namespace ropeline {
namespace {

bool same_name(const std::string& a, const std::string& b) {
    return std::ranges::equal(a, b, [](unsigned char x, unsigned char y) {
        const auto lower = [](unsigned char c) {
            return c >= 'A' && c <= 'Z' ? c + 32 : static_cast<int>(c);
        };
        return lower(x) == lower(y);
    });
}

} // namespace

bool passes(const FactFilter& filter, const ShotFact& fact) {
    if (!filter.goalie.empty() && !same_name(filter.goalie, fact.goalie)) return false;
    if (!filter.team.empty() && !same_name(filter.team, fact.team)) return false;
    if (!filter.from.empty() && fact.game_date < filter.from) return false;
    if (!filter.to.empty() && (fact.game_date.empty() || fact.game_date > filter.to)) return false;
    if (filter.situation && fact.situation != filter.situation) return false;
    return !filter.came || what_came(fact) == filter.came;
}

std::vector<ShotFact> filtered(std::span<const ShotFact> facts, const FactFilter& filter) {
    std::vector<ShotFact> kept;
    std::ranges::copy_if(facts, std::back_inserter(kept),
                         [&](const ShotFact& fact) { return passes(filter, fact); });
    return kept;
}

std::vector<ShotFact> together(std::vector<std::vector<ShotFact>> seasons) {
    std::vector<ShotFact> all;
    std::set<Id> seen;
    std::map<std::pair<std::string, std::string>, Id> goalies;
    for (std::vector<ShotFact>& season : seasons) {
        for (ShotFact& fact : season) {
            if (!seen.insert(fact.shot_id).second) continue;
            if (!fact.goalie_id.empty())
                fact.goalie_id = goalies.try_emplace({fact.goalie, fact.team}, fact.goalie_id).first->second;
            all.push_back(std::move(fact));
        }
    }
    return all;
}

} // namespace ropeline
