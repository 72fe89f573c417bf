#include "sheet/summary.h"
#include "season/dates.h"
#include "season/season_file.h"
#include "season/whole_file.h"
#include "sheet/csv.h"
#include "sheet/season_page.h"
#include "sheet/season_words.h"
#include "sheet/shot_words.h"
#include "sheet/text.h"
#include "tally/filter.h"
#include "verbs/summary.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <filesystem>
#include <set>

namespace ropeline {
namespace {

struct SummaryCall {
    std::vector<std::string> seasons;
    std::string folder, page, charts, against;
    FactFilter filter;
    std::string situation, came;
    bool as_json = false, with_mark = false;
    WriteCharts write_charts = nullptr;
};

struct Given {
    Season season;
    std::vector<ShotFact> facts;
};

Given read(const std::string& path) {
    const SeasonFile file = SeasonFile::open_to_read(path);
    for (const std::string& line : file.set_aside())
        fmt::print(stderr, "{}\n", line);
    return {file.season(), file.shot_facts()};
}

void check_date(const std::string& date, std::string_view option) {
    if (!date.empty() && !is_day(date))
        throw WrongCall(fmt::format("{} {} is no date. Write it like 2026-11-25.", option, date));
}

/// The filter with its words read.
FactFilter filter_of(const SummaryCall& call) {
    FactFilter filter = call.filter;
    check_date(filter.from, "--from");
    check_date(filter.to, "--to");
    if (!call.situation.empty()) filter.situation = from_key<Situation>(call.situation);
    if (!call.came.empty()) filter.came = from_key<NextAction>(call.came);
    return filter;
}

/// A name that no shot has is told with those that are there.
void check_names(const FactFilter& filter, std::span<const CountedGoalie> goalies) {
    const auto check = [&](const std::string& name, const FactFilter& only,
                           std::string CountedGoalie::*member, std::string_view kind) {
        if (name.empty() || std::ranges::any_of(goalies, [&](const CountedGoalie& goalie) {
                return passes_goalie(only, goalie);
            }))
            return;
        std::set<std::string> names;
        for (const CountedGoalie& goalie : goalies)
            if (!(goalie.*member).empty()) names.insert(goalie.*member);
        std::string list;
        for (const std::string& one : names)
            list += (list.empty() ? "" : ", ") + printable(one);
        throw WrongCall(
            fmt::format("no shot has the {} {}. There are: {}.", kind, name, list.empty() ? "none" : list));
    };
    check(filter.goalie, {.goalie = filter.goalie}, &CountedGoalie::name, "goalie");
    check(filter.team, {.team = filter.team}, &CountedGoalie::team, "team");
}

std::vector<CountedGoalie> goalies_of(std::span<const ShotFact> facts) {
    std::vector<CountedGoalie> goalies;
    const ShotFact* before = nullptr;
    for (const ShotFact& fact : facts) {
        if (!before || before->goalie_id != fact.goalie_id)
            goalies.push_back({fact.goalie_id, fact.goalie, fact.team});
        before = &fact;
    }
    return goalies;
}

void write_csv(const SummaryCall& call, const Season& season, std::span<const ShotFact> facts,
               const std::optional<ReviewAgreement>& agreement) {
    const std::filesystem::path folder = call.folder;
    write_csv_files(folder, season, facts, call.with_mark, agreement);
    fmt::print("{}, shots_in_feet.csv, bands.csv, verdicts.csv{} groups.csv{}: {} logged\n",
               (folder / "shots.csv").string(), agreement ? "," : " and",
               agreement ? " and agreement.csv" : "", facts.size());
}

void write_charts(const SummaryCall& call, const Season& season, std::span<const ShotFact> facts,
                  const std::optional<ReviewAgreement>& agreement) {
    const auto charts = season_charts(facts, tally_season(facts), season, agreement);
    call.write_charts(call.charts, charts);
    fmt::print("{}: {} charts as SVG and PNG, {} logged\n", call.charts, charts.size(), facts.size());
}

/// The same game logged twice under two ids cannot be laid together by them.
void tell_of_games_twice(const std::vector<std::vector<ShotFact>>& seasons) {
    for (const std::string& game : games_under_two_ids(seasons))
        fmt::print(stderr,
                   "Two of these files hold the same game under different ids, so its shots count twice: {}. "
                   "Compare two reviews of it with --against instead.\n",
                   printable(game));
}

/// The words alone of one season: its shots are counted, and none of them worked out.
void count(const SummaryCall& call) {
    const FactFilter filter = filter_of(call);
    const SeasonFile file = SeasonFile::open_to_count(call.seasons.front());
    for (const std::string& line : file.set_aside())
        fmt::print(stderr, "{}\n", line);
    const CountedOnly only{[&](std::string_view date) { return passes_day(filter, date); },
                           [&](const CountedGoalie& goalie, const CountedPlay& play) {
                               return passes_goalie(filter, goalie) && passes_play(filter, play);
                           }};
    const CountedShots shots = file.counted_shots(filter.asks_nothing() ? CountedOnly{} : only);
    if (shots.shots == 0) check_names(filter, file.counted_shots().goalies);
    fmt::print("{}", summary_text(file.season(), shots, filter_words(filter)));
}

void summarise(const SummaryCall& call) {
    std::vector<std::vector<ShotFact>> read_facts;
    Season season;
    for (const std::string& path : call.seasons) {
        Given given = read(path);
        if (read_facts.empty())
            season = given.season;
        else
            season.name += ", " + given.season.name;
        read_facts.push_back(std::move(given.facts));
    }
    tell_of_games_twice(read_facts);
    auto all = read_facts.size() == 1 ? std::move(read_facts.front()) : together(std::move(read_facts));
    const FactFilter filter = filter_of(call);
    check_names(filter, goalies_of(all));
    const auto facts = filter.asks_nothing() ? std::move(all) : filtered(all, filter);
    std::optional<ReviewAgreement> agreement;
    if (!call.against.empty()) agreement = agreement_of(facts, filtered(read(call.against).facts, filter));
    if (!call.page.empty()) {
        write_whole_file(call.page, season_page(season, facts, filter_words(filter), agreement));
        fmt::print("{}: {} logged\n", call.page, facts.size());
    }
    if (!call.folder.empty()) write_csv(call, season, facts, agreement);
    if (!call.charts.empty()) write_charts(call, season, facts, agreement);
    if (!call.page.empty() || !call.folder.empty() || !call.charts.empty()) return;
    fmt::print("{}", call.as_json ? summary_json(season, facts)
                                  : summary_text(season, facts, filter_words(filter)));
    if (agreement)
        for (const std::string& sentence : agreement_sentences(*agreement))
            fmt::print("{}\n", sentence);
}

bool is_counted(const SummaryCall& call) {
    return call.seasons.size() == 1 && !call.as_json && call.folder.empty() && call.page.empty() &&
           call.charts.empty() && call.against.empty();
}

} // namespace

void add_summary_verb(CLI::App& app, Job& chosen, WriteCharts write_charts) {
    auto call = std::make_shared<SummaryCall>();
    call->write_charts = write_charts;
    CLI::App* verb = app.add_subcommand(
        "summary", "What a season says: in the terminal, as JSON, CSV, one page of HTML or its charts");
    verb->add_option("SEASON", call->seasons, "The season file (*.season); several count as one")->required();
    verb->add_option("--goalie", call->filter.goalie, "Only this goalie's shots")->type_name("NAME");
    verb->add_option("--team", call->filter.team, "Only shots on this team's goalies")->type_name("NAME");
    verb->add_option("--from", call->filter.from, "Only games from this day on, like 2026-11-25")
        ->type_name("DATE");
    verb->add_option("--to", call->filter.to, "Only games up to this day")->type_name("DATE");
    verb->add_option("--situation", call->situation, "Only this situation")
        ->check(CLI::IsMember({"rush", "zone", "penalty_kill", "rebound", "breakaway", "neutral_ice"}));
    verb->add_option("--came", call->came, "Only clear shots, or only passes")
        ->check(CLI::IsMember({"shot", "pass"}));
    auto* against = verb->add_option("--against", call->against,
                                     "Another review of the same shots: how far the two agree")
                        ->type_name("SEASON");
    auto* as_json = verb->add_flag("--json", call->as_json, "The same figures as JSON")->excludes(against);
    auto* folder = verb->add_option("--csv", call->folder,
                                    "Write shots.csv, shots_in_feet.csv, bands.csv, verdicts.csv and "
                                    "groups.csv into this folder instead")
                       ->type_name("DIR")
                       ->excludes(as_json);
    verb->add_flag("--bom", call->with_mark,
                   "Start each CSV file with a byte order mark, which some spreadsheets need")
        ->needs(folder);
    verb->add_option("--page", call->page, "Write one page of HTML instead; it opens and prints anywhere")
        ->type_name("FILE")
        ->excludes(as_json);
    verb->add_option("--charts", call->charts, "Write each chart as SVG and PNG into this folder instead")
        ->type_name("DIR")
        ->excludes(as_json);
    verb->callback(
        [call, &chosen] { chosen = [call] { is_counted(*call) ? count(*call) : summarise(*call); }; });
}

void add_quick_summary(CLI::App& app, Job& chosen) {
    add_summary_verb(app, chosen, nullptr);
}

} // namespace ropeline
