#include "tally/band_table.h"

#include <algorithm>
#include <tuple>

namespace ropeline {
namespace {

void add(VerdictCounts& counts, std::optional<Verdict> model, std::optional<Verdict> overruled) {
    if (!model && !overruled) return;
    const Verdict judged = model.value_or(Verdict::not_judged);
    const Verdict reviewed = overruled.value_or(judged);
    ++counts.model.at(static_cast<std::size_t>(judged));
    ++counts.reviewed.at(static_cast<std::size_t>(reviewed));
    counts.overruled += reviewed != judged ? 1 : 0;
}

} // namespace

void add_to(Counts& counts, const ShotFact& fact) {
    ++counts.logged;
    if (!fact.outcome || *fact.outcome == Outcome::no_shot) return;
    ++counts.shots;
    counts.unblocked += *fact.outcome == Outcome::block ? 0 : 1;
    counts.on_goal += is_shot_on_goal(*fact.outcome) ? 1 : 0;
    counts.goals += *fact.outcome == Outcome::goal ? 1 : 0;
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
    for (const ShotFact& fact : facts) {
        auto table = std::find_if(tables.begin(), tables.end(), [&](const GoalieTable& other) {
            return other.goalie_id == fact.goalie_id;
        });
        if (table == tables.end())
            table = tables.insert(tables.end(), {fact.goalie_id, fact.goalie, fact.team, {}, {}, {}, {}, {}});
        add_to(fact.band ? table->by_band.at(static_cast<std::size_t>(*fact.band)) : table->without_depth,
               fact);
        add_to(table->total, fact);
        if (const auto right = read_it(fact.read, fact.came))
            ++(*right ? table->calls.read_it : table->calls.misread_it);
        add(table->verdicts, fact.verdict, fact.overruled);
        if (fact.pass) add(table->verdicts, fact.pass->verdict, fact.pass->overruled);
    }
    std::sort(tables.begin(), tables.end(), [](const GoalieTable& a, const GoalieTable& b) {
        return std::tuple{a.goalie_id.empty(), a.goalie, a.goalie_id} <
               std::tuple{b.goalie_id.empty(), b.goalie, b.goalie_id};
    });
    return tables;
}

} // namespace ropeline
