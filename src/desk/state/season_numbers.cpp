#include "desk/state/season_numbers.h"

#include "sheet/depth_scatter.h"
#include "sheet/season_words.h"
#include "sheet/side_by_side_words.h"
#include "tally/breakdown.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <map>
#include <set>
#include <tuple>

namespace ropeline {
namespace {

constexpr std::size_t most_single_marks =
    600; ///< in the picture of every depth; with more nothing is told apart

SeasonChoices choices_in(const std::vector<ShotFact>& facts) {
    SeasonChoices made;
    std::map<Id, std::pair<std::string, std::string>> goalies;
    std::set<std::string> teams, reviewers;
    for (const ShotFact& fact : facts) {
        if (!fact.goalie_id.empty() && !goalies.contains(fact.goalie_id))
            goalies.try_emplace(fact.goalie_id, fact.goalie, fact.team);
        if (!fact.team.empty() && (teams.empty() || *teams.rbegin() != fact.team)) teams.insert(fact.team);
        if (!fact.tagged_by.empty()) reviewers.insert(fact.tagged_by);
        if (fact.game_date.empty()) continue;
        if (made.first_day.empty() || fact.game_date < made.first_day) made.first_day = fact.game_date;
        made.last_day = std::max(made.last_day, fact.game_date);
    }
    std::map<std::string, int> of_name;
    for (const auto& [id, one] : goalies)
        ++of_name[one.first];
    for (const auto& [id, one] : goalies)
        made.goalies.push_back(
            {id, of_name[one.first] > 1 && !one.second.empty() ? one.first + ", " + one.second : one.first});
    std::ranges::sort(made.goalies, {}, [](const Choice& one) { return std::tie(one.words, one.key); });
    made.teams.assign(teams.begin(), teams.end());
    made.reviewers.assign(reviewers.begin(), reviewers.end());
    return made;
}

/// Shots and what they add up to.
struct Lot {
    std::span<const ShotFact> shots;
    SeasonTally tally;
};

/// In   beside: the other side.
SeasonColumn column_of(const Lot& lot, const Season& season, const std::string& name, const Lot* beside) {
    SeasonColumn made;
    made.name = name;
    made.shots = lot.shots.size();
    made.games = lot.tally.games;
    made.first = first_sentence(lot.tally);
    made.further = further_sentences(lot.tally);
    made.charts =
        season_charts(lot.shots, lot.tally, season, std::nullopt, beside ? &beside->tally : nullptr);
    if (lot.shots.size() > most_single_marks) return made;
    Scene depths = depth_scatter(lot.shots, season, DepthAxis::clearance,
                                 beside ? beside->shots : std::span<const ShotFact>{});
    if (beside) depths.title = name + ": " + depths.title; // they stand under one another
    made.charts.push_back({"every_depth", std::move(depths)});
    return made;
}

/// Of goals all went in: what counts goals is left out, and it is said.
void keep_what_goals_say(SeasonColumn& column) {
    column.first = "Of goals all went in, so no share of goals is shown here: only where they came from, how "
                   "far out the goalie stood and what that gave away.";
    column.further.clear();
    std::erase_if(column.charts, [](const NamedChart& chart) {
        return chart.name == "goals_by_depth" || chart.name == "differences" || chart.name == "goal_chance" ||
               chart.name == "game_by_game";
    });
}

/// The shots of either side, and what each is called.
struct Sides {
    std::array<std::vector<ShotFact>, 2> shots;
    std::array<std::string, 2> names;
};

Sides sides_of(const std::vector<ShotFact>& facts, const Comparison& comparison,
               const SeasonChoices& choices) {
    Sides made;
    const std::array keys{comparison.first, comparison.second};
    const auto is_late = comparison.by == CompareBy::halves ? second_half_games(facts) : std::map<Id, bool>{};
    for (std::size_t side = 0; side < 2; ++side) {
        const auto belongs = [&](const ShotFact& fact) {
            switch (comparison.by) {
            case CompareBy::nothing:
                return false;
            case CompareBy::goalies:
                return fact.goalie_id == keys.at(side);
            case CompareBy::halves:
                return is_late.contains(fact.game_id) && is_late.at(fact.game_id) == (side == 1);
            case CompareBy::reviewers:
                return fact.tagged_by == keys.at(side);
            }
            return false;
        };
        std::ranges::copy_if(facts, std::back_inserter(made.shots.at(side)), belongs);
        made.names.at(side) = comparison.by == CompareBy::goalies ? goalie_words(choices, keys.at(side))
                              : comparison.by == CompareBy::halves
                                  ? side == 0 ? "the first half" : "the second half"
                                  : keys.at(side);
    }
    return made;
}

void add_reviews(SeasonNumbers& made, const Sides& sides) {
    const ReviewAgreement agreement = agreement_of(sides.shots[0], sides.shots[1]);
    std::ranges::move(agreement_sentences(agreement), std::back_inserter(made.between));
    if (agreement.depth_m) made.shared.push_back({"two_reviews", agreement_chart(agreement)});
}

void add_sides(SeasonNumbers& made, const std::vector<ShotFact>& facts, const Season& season) {
    const Sides sides = sides_of(facts, made.of.comparison, made.choices);
    const std::array<Lot, 2> lots{
        {{sides.shots[0], tally_season(sides.shots[0])}, {sides.shots[1], tally_season(sides.shots[1])}}};
    for (std::size_t side = 0; side < 2; ++side)
        made.columns.push_back(column_of(lots.at(side), season, sides.names.at(side), &lots.at(1 - side)));
    made.between =
        side_by_side_sentences(side_by_side(sides.shots[0], sides.shots[1]), sides.names[0], sides.names[1]);
    if (made.of.filter.goals) made.between.erase(made.between.begin()); // the one of goals: all went in
    if (made.of.comparison.by == CompareBy::reviewers) add_reviews(made, sides);
}

/// What that column of the shots holds, the one with the most shots first.
std::vector<std::string> by_shots(const std::vector<ShotFact>& facts, std::string ShotFact::*of) {
    std::map<std::string, int> counted;
    for (const ShotFact& fact : facts)
        if (!(fact.*of).empty()) ++counted[fact.*of];
    std::vector<std::string> keys;
    for (const auto& [key, count] : counted)
        keys.push_back(key);
    std::ranges::stable_sort(keys, [&](const auto& a, const auto& b) { return counted[a] > counted[b]; });
    return keys;
}

} // namespace

std::string_view label_of(CompareBy by) {
    constexpr std::array<std::string_view, 4> labels{"nothing", "two goalies", "two halves", "two reviewers"};
    return labels.at(static_cast<std::size_t>(by));
}

std::string goalie_words(const SeasonChoices& choices, const Id& goalie_id) {
    const auto found = std::ranges::find(choices.goalies, goalie_id, &Choice::key);
    return found == choices.goalies.end() ? std::string{} : found->words;
}

Comparison usual_comparison(CompareBy by, const SeasonNumbers& numbers) {
    if (by == CompareBy::nothing || by == CompareBy::halves) return {by, {}, {}};
    const auto keys = by == CompareBy::goalies ? by_shots(numbers.facts, &ShotFact::goalie_id)
                                               : by_shots(numbers.facts, &ShotFact::tagged_by);
    return keys.size() < 2 ? Comparison{} : Comparison{by, keys[0], keys[1]};
}

std::optional<SeasonNumbers> season_numbers(const SharedFacts& facts, const Season& season,
                                            const SeasonAsk& ask, const WorkOnItsWay& way) {
    SeasonNumbers made;
    made.facts = facts;
    made.of = ask;
    made.choices = choices_in(facts);
    FactFilter any_goalie = ask.filter;
    any_goalie.goalie_id.clear();
    std::vector<ShotFact> kept;
    const auto shown = [&](const FactFilter& filter) -> const std::vector<ShotFact>& {
        if (filter.asks_nothing()) return facts;
        kept = filtered(facts.rows(), filter);
        return kept;
    };
    made.goalies = goalie_rows(shown(any_goalie));
    way.report(0.3);
    if (way.stop.stop_requested()) return std::nullopt;
    // Two goalies are not two of the one that is asked for.
    const bool two_goalies = ask.comparison.by == CompareBy::goalies;
    const std::vector<ShotFact>& asked = shown(two_goalies ? any_goalie : ask.filter);
    made.shots = asked.size();
    if (ask.comparison.by == CompareBy::nothing)
        made.columns.push_back(column_of({asked, tally_season(asked)}, season, {}, nullptr));
    else
        add_sides(made, asked, season);
    if (ask.filter.goals) std::ranges::for_each(made.columns, keep_what_goals_say);
    way.report(1.0);
    if (way.stop.stop_requested()) return std::nullopt;
    return made;
}

} // namespace ropeline
