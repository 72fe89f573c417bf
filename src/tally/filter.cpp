#include "tally/filter.h"

#include "season/folded.h"
#include "tally/decision.h"

#include <fmt/core.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <tuple>
#include <utility>

namespace ropeline {
namespace {

bool is_ascii(const std::string& text) {
    return std::ranges::all_of(text, [](unsigned char c) { return c < 0x80; });
}

bool same_name(const std::string& a, const std::string& b) {
    if (a == b) return true;
    if (!is_ascii(a) || !is_ascii(b)) return folded(a) == folded(b);
    return std::ranges::equal(a, b, [](unsigned char x, unsigned char y) {
        const auto lower = [](unsigned char c) {
            return c >= 'A' && c <= 'Z' ? c + 32 : static_cast<int>(c);
        };
        return lower(x) == lower(y);
    });
}

bool asks_for(const FactFilter& filter, const Id& goalie_id, const std::string& goalie,
              const std::string& team) {
    if (!filter.goalie_id.empty() && filter.goalie_id != goalie_id) return false;
    if (!filter.goalie.empty() && !same_name(filter.goalie, goalie)) return false;
    return filter.team.empty() || same_name(filter.team, team);
}

/// Date and teams.
using DayAndTeams = std::tuple<std::string, std::string, std::string>;

std::map<DayAndTeams, std::set<Id>> games_of(const std::vector<ShotFact>& season) {
    std::map<DayAndTeams, std::set<Id>> games;
    const ShotFact* before = nullptr;
    for (const ShotFact& fact : season) {
        const bool known = before && before->game_id == fact.game_id;
        before = &fact;
        if (known || fact.game_date.empty() || fact.home_team.empty() || fact.away_team.empty()) continue;
        games[{fact.game_date, folded(fact.home_team), folded(fact.away_team)}].insert(fact.game_id);
    }
    return games;
}

std::string words_of(const std::vector<ShotFact>& season, const Id& game) {
    const auto fact = std::ranges::find(season, game, &ShotFact::game_id);
    return fmt::format("{}, {} - {}", fact->game_date, fact->home_team, fact->away_team);
}

} // namespace

bool passes_day(const FactFilter& filter, std::string_view date) {
    if (!filter.from.empty() && date < filter.from) return false;
    return filter.to.empty() || (!date.empty() && date <= filter.to);
}

bool passes_goalie(const FactFilter& filter, const CountedGoalie& goalie) {
    return asks_for(filter, goalie.id, goalie.name, goalie.team);
}

bool passes_play(const FactFilter& filter, const CountedPlay& play) {
    if (filter.situation && play.situation != filter.situation) return false;
    return !filter.came || what_came(play) == filter.came;
}

bool passes(const FactFilter& filter, const ShotFact& fact) {
    if (!asks_for(filter, fact.goalie_id, fact.goalie, fact.team)) return false;
    if (!passes_day(filter, fact.game_date)) return false;
    if (filter.verdict && decision_of(fact).verdict != filter.verdict) return false;
    if (filter.goals && was_goal(fact) != true) return false;
    if (filter.area && !(fact.puck_at && filter.area->holds(*fact.puck_at))) return false;
    return passes_play(filter, counted_play(fact));
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

std::vector<std::string> games_under_two_ids(const std::vector<std::vector<ShotFact>>& seasons) {
    std::map<DayAndTeams, std::set<Id>> before;
    std::vector<std::string> twice;
    for (const std::vector<ShotFact>& season : seasons)
        for (const auto& [day, ids] : games_of(season)) {
            std::set<Id>& known = before[day];
            const bool another =
                !known.empty() && std::ranges::none_of(ids, [&](const Id& id) { return known.contains(id); });
            if (another) twice.push_back(words_of(season, *ids.begin()));
            known.insert(ids.begin(), ids.end());
        }
    std::ranges::sort(twice);
    twice.erase(std::unique(twice.begin(), twice.end()), twice.end());
    return twice;
}

} // namespace ropeline
