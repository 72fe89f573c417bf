#include "tally/band_table.h"

#include <algorithm>
#include <tuple>
#include <unordered_map>

namespace ropeline {
namespace {

void add(VerdictCounts& counts, std::optional<Verdict> model, std::optional<Verdict> overruled, int times) {
    if (!model && !overruled) return;
    const Verdict judged = model.value_or(Verdict::not_judged);
    const Verdict reviewed = overruled.value_or(judged);
    counts.model.at(static_cast<std::size_t>(judged)) += times;
    counts.reviewed.at(static_cast<std::size_t>(reviewed)) += times;
    counts.overruled += reviewed != judged ? times : 0;
}

void add(Counts& counts, const std::optional<Outcome>& outcome, int times) {
    counts.logged += times;
    if (!outcome || *outcome == Outcome::no_shot) return;
    counts.shots += times;
    counts.unblocked += *outcome == Outcome::block ? 0 : times;
    counts.on_goal += is_shot_on_goal(*outcome) ? times : 0;
    counts.goals += *outcome == Outcome::goal ? times : 0;
}

void add(GoalieTable& table, const CountedPlay& play, int times) {
    add(play.band ? table.by_band.at(static_cast<std::size_t>(*play.band)) : table.without_depth,
        play.outcome, times);
    add(table.total, play.outcome, times);
    if (const auto right = read_it(play.read, play.came))
        (*right ? table.calls.read_it : table.calls.misread_it) += times;
    add(table.verdicts, play.verdict, play.overruled, times);
    if (play.pass) add(table.verdicts, play.pass->verdict, play.pass->overruled, times);
}

std::vector<GoalieTable> by_name(std::vector<GoalieTable> tables) {
    std::sort(tables.begin(), tables.end(), [](const GoalieTable& a, const GoalieTable& b) {
        return std::tuple{a.goalie_id.empty(), a.goalie, a.goalie_id} <
               std::tuple{b.goalie_id.empty(), b.goalie, b.goalie_id};
    });
    return tables;
}

} // namespace

void add_to(Counts& counts, const ShotFact& fact) {
    add(counts, fact.outcome, 1);
}

std::optional<double> Counts::save_percentage() const {
    if (on_goal == 0) return std::nullopt;
    return static_cast<double>(saves()) / on_goal;
}

std::optional<Interval> Counts::interval() const {
    if (on_goal == 0) return std::nullopt;
    return wilson(saves(), on_goal);
}

Counts count(std::span<const ShotFact> facts) {
    Counts counts;
    for (const ShotFact& fact : facts)
        add_to(counts, fact);
    return counts;
}

std::optional<bool> read_it(const std::optional<Read>& call, const std::optional<NextAction>& came) {
    if (!call || (came != NextAction::shot && came != NextAction::pass)) return std::nullopt;
    return (*call == Read::shot) == (came == NextAction::shot);
}

std::vector<GoalieTable> band_tables(std::span<const ShotFact> facts) {
    std::vector<GoalieTable> tables;
    std::unordered_map<Id, std::size_t> places;
    for (const ShotFact& fact : facts) {
        const auto [place, is_new] = places.try_emplace(fact.goalie_id, tables.size());
        if (is_new) tables.push_back({fact.goalie_id, fact.goalie, fact.team, {}, {}, {}, {}, {}});
        add(tables[place->second], counted_play(fact), 1);
    }
    return by_name(std::move(tables));
}

std::vector<GoalieTable> band_tables(const CountedShots& shots) {
    std::vector<GoalieTable> tables;
    for (const CountedGoalie& goalie : shots.goalies)
        tables.push_back({goalie.id, goalie.name, goalie.team, {}, {}, {}, {}, {}});
    for (const auto& [goalie, play, times] : shots.rows)
        add(tables[goalie], play, times);
    std::erase_if(tables, [](const GoalieTable& table) { return table.total.logged == 0; });
    return by_name(std::move(tables));
}

} // namespace ropeline
