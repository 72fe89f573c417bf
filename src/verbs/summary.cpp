#include "sheet/summary.h"
#include "season/season_file.h"
#include "season/whole_file.h"
#include "sheet/csv.h"
#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <filesystem>

namespace ropeline {
namespace {

struct SummaryCall {
    std::string season, folder;
    bool as_json = false;
};

void summarise(const SummaryCall& call) {
    const SeasonFile file = SeasonFile::open_to_read(call.season);
    for (const std::string& line : file.set_aside())
        fmt::print(stderr, "{}\n", line);
    const Season season = file.season();
    const auto facts = file.shot_facts();
    if (!call.folder.empty()) {
        const std::filesystem::path folder = call.folder;
        write_whole_file(folder / "shots.csv", shots_csv(facts));
        write_whole_file(folder / "bands.csv", bands_csv(band_tables(facts)));
        write_whole_file(folder / "verdicts.csv", verdicts_csv(band_tables(facts)));
        fmt::print("{}, bands.csv and verdicts.csv: {} logged\n", (folder / "shots.csv").string(),
                   facts.size());
        return;
    }
    fmt::print("{}", call.as_json ? summary_json(season, facts) : summary_text(season, facts));
}

} // namespace

void add_summary(CLI::App& app, Job& chosen) {
    auto call = std::make_shared<SummaryCall>();
    CLI::App* verb = app.add_subcommand(
        "summary", "The season in the terminal: save percentage by depth band and verdicts, per goalie");
    verb->add_option("SEASON", call->season, "The season file (*.season)")->required();
    auto* as_json = verb->add_flag("--json", call->as_json, "The same figures as JSON");
    verb->add_option("--csv", call->folder,
                     "Write shots.csv, bands.csv and verdicts.csv into this folder instead")
        ->type_name("DIR")
        ->excludes(as_json);
    verb->callback([call, &chosen] { chosen = [call] { summarise(*call); }; });
}

} // namespace ropeline
