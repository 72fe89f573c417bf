#include "sheet/summary.h"

#include "sheet/counted.h"
#include "sheet/season_words.h"
#include "sheet/shot_words.h"
#include "sheet/tally_json.h"
#include "sheet/text.h"

#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <array>
#include <iterator>
#include <set>

namespace ropeline {
namespace {

using nlohmann::json;

std::string row(std::string_view name, const Counts& counts) {
    const auto interval = counts.interval();
    return fmt::format(
        "  {:<14}{:>7}{:>8}{:>10}{:>8}{:>9}   {}\n", name, counts.logged, counts.shots, counts.on_goal,
        counts.goals, percentage_text(counts.save_percentage()),
        interval ? fmt::format("{} to {}", percentage_text(interval->low), percentage_text(interval->high))
                 : "-");
}

json counts_json(const Counts& counts) {
    const auto share = counts.save_percentage();
    const auto interval = counts.interval();
    return {{"logged", counts.logged},
            {"shots", counts.shots},
            {"on_goal", counts.on_goal},
            {"saves", counts.saves()},
            {"goals", counts.goals},
            {"save_percentage", share ? json(*share) : json()},
            {"wilson_95", interval ? json{interval->low, interval->high} : json()}};
}

constexpr std::array verdicts = {Verdict::right_depth,  Verdict::over_challenged, Verdict::too_far_out,
                                 Verdict::sat_back,     Verdict::off_angle,       Verdict::beaten_across,
                                 Verdict::off_the_post, Verdict::not_judged};

json verdicts_json(const VerdictCounts& counts) {
    json model, reviewed;
    for (const Verdict verdict : verdicts) {
        const auto at = static_cast<std::size_t>(verdict);
        model[std::string{key_of(verdict)}] = counts.model[at];
        reviewed[std::string{key_of(verdict)}] = counts.reviewed[at];
    }
    return {{"model", model}, {"reviewed", reviewed}, {"overruled", counts.overruled}};
}

/// "depth: 61 right depth, 12 sat back ..."; empty when none has a verdict.
std::string verdicts_text(const VerdictCounts& counts) {
    const std::string model = verdict_words(counts.model);
    if (model.empty()) return {};
    std::string text = fmt::format("  depth: {}\n", model);
    if (counts.overruled > 0)
        text += fmt::format("  {} overruled, so: {}\n", counts.overruled, verdict_words(counts.reviewed));
    return text;
}

json band_json(const json& band, const Counts& counts) {
    json made = counts_json(counts);
    made["band"] = band;
    return made;
}

std::string goalie_name(const GoalieTable& table) {
    if (table.goalie_id.empty()) return "No goalie named";
    const std::string name = printable(table.goalie);
    return table.team.empty() ? name : fmt::format("{}, {}", name, printable(table.team));
}

/// All that the text is written from.
struct Counted {
    int shots = 0, games = 0;
    ComingOut on_shots, on_passes;
    std::vector<GoalieTable> goalies;
};

Counted counted_of(std::span<const ShotFact> facts) {
    std::set<Id> games;
    for (const ShotFact& fact : facts)
        games.insert(fact.game_id);
    return {static_cast<int>(facts.size()), static_cast<int>(games.size()),
            coming_out(facts, NextAction::shot), coming_out(facts, NextAction::pass), band_tables(facts)};
}

Counted counted_of(const CountedShots& shots) {
    return {shots.shots, shots.games, coming_out(shots, NextAction::shot),
            coming_out(shots, NextAction::pass), band_tables(shots)};
}

std::string text_of(const Season& season, const Counted& counted_shots, const std::string& asked) {
    std::string text = printable(season.name);
    if (!season.league.empty()) text += ", " + printable(season.league);
    if (!asked.empty()) text += ", " + printable(asked);
    text += fmt::format(": {} logged in {}, {} rules\n", counted_shots.shots,
                        counted(counted_shots.games, "game"), rule_book(season.rules).name);
    if (counted_shots.shots == 0)
        return !asked.empty()
                   ? text + "Nothing that is logged is of these. Ask for fewer things at once.\n"
                   : text + "Nothing is logged yet. Open the season and log a shot: ropeline open SEASON\n";

    text += "\n" + first_sentence(counted_shots.on_shots, counted_shots.on_passes) + "\n";
    for (const GoalieTable& table : counted_shots.goalies) {
        text += fmt::format("\n{}\n  {:<14}{:>7}{:>8}{:>10}{:>8}{:>9}   {}\n", goalie_name(table), "band",
                            "logged", "shots", "on goal", "goals", "save %", "95 % interval");
        for (std::size_t band = 0; band < table.by_band.size(); ++band)
            text += row(label_of(static_cast<Band>(band)), table.by_band[band]);
        if (table.without_depth.logged > 0) text += row("no depth", table.without_depth);
        text += row("total", table.total);
        text += verdicts_text(table.verdicts);
        if (table.calls.read_it + table.calls.misread_it > 0)
            text += fmt::format("  calls: {} read it, {} misread it\n", table.calls.read_it,
                                table.calls.misread_it);
    }
    text +=
        fmt::format("\nBands: defensive under {:g} m from the middle of the goal line; base within {:g} "
                    "m of the crease's edge, conservative inside of that, aggressive outside.\nSave % = "
                    "saves / shots on goal; posts, misses and blocks are shots but not on goal. "
                    "Interval: Wilson, 95 %.\nThe tables count by where the goalie stood at the shot, the "
                    "sentence above by where at the decision: the pass, where one was marked.\n",
                    season.parameters.defensive_depth_m, season.parameters.base_half_width_m);
    return text;
}

} // namespace

std::string summary_text(const Season& season, std::span<const ShotFact> facts, const std::string& asked) {
    return text_of(season, counted_of(facts), asked);
}

std::string summary_text(const Season& season, const CountedShots& shots, const std::string& asked) {
    return text_of(season, counted_of(shots), asked);
}

std::string summary_json(const Season& season, std::span<const ShotFact> facts) {
    json parameters = json::object();
    for (const ParameterFact& fact : parameter_facts())
        parameters[std::string{fact.key}] = *parameter(season.parameters, fact.key);
    json goalies = json::array();
    for (const GoalieTable& table : band_tables(facts)) {
        json bands = json::array();
        for (std::size_t band = 0; band < table.by_band.size(); ++band)
            bands.push_back(band_json(key_of(static_cast<Band>(band)), table.by_band[band]));
        bands.push_back(band_json(nullptr, table.without_depth));
        goalies.push_back(
            {{"goalie_id", table.goalie_id.empty() ? json() : json(table.goalie_id)},
             {"goalie", table.goalie},
             {"team", table.team},
             {"bands", bands},
             {"total", counts_json(table.total)},
             {"verdicts", verdicts_json(table.verdicts)},
             {"calls", {{"read_it", table.calls.read_it}, {"misread_it", table.calls.misread_it}}}});
    }
    const json summary = {{"season",
                           {{"name", season.name},
                            {"league", season.league},
                            {"rules", rule_book(season.rules).key},
                            {"level", key_of(season.level)}}},
                          {"parameters", parameters},
                          {"tally", tally_json(tally_season(facts))},
                          {"goalies", goalies}};
    return summary.dump(2, ' ', false, json::error_handler_t::replace) + "\n";
}

} // namespace ropeline
