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
    using Name = std::pair<std::string, std::string>;
    std::map<Name, Id> goalies; // of the seasons before
    std::set<Id> known;
    for (std::vector<ShotFact>& season : seasons) {
        std::set<std::pair<Name, Id>> here;
        for (ShotFact& fact : season) {
            if (!seen.insert(fact.shot_id).second) continue;
            if (!fact.goalie_id.empty()) {
                const Name name{fact.goalie, fact.team};
                const auto before = goalies.find(name);
                if (before != goalies.end() && !known.contains(fact.goalie_id))
                    fact.goalie_id = before->second;
                here.emplace(name, fact.goalie_id);
            }
            all.push_back(std::move(fact));
        }
        for (const auto& [name, id] : here) {
            goalies.try_emplace(name, id);
            known.insert(id);
        }
    }
    return all;
}

} // namespace ropeline
