#include "unite/extract.h"

#include "sheet/counted.h"
#include "sheet/text.h"
#include "verbs/chosen_shots.h"
#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <memory>

namespace ropeline {
namespace {

struct ExtractCall {
    std::string season, goalie, into;
    ExtractOptions options;
};

void extract(const ExtractCall& call) {
    if (std::filesystem::path(call.into).extension() != ".season")
        throw WrongCall(fmt::format("{}: what comes out is a season, name it something.season", call.into));
    const SeasonFile file = SeasonFile::open_to_read(call.season);
    const Goalie goalie = chosen_goalie(file, call.goalie);
    const ExtractReport report = extract_goalie(file, goalie, call.into, call.options);
    for (const std::string& line : report.told)
        fmt::print("{}\n", printable(line));
    fmt::print("{}: {} of {}, {} beside it\n", call.into, counted(report.shots, "shot"),
               printable(goalie.name), counted(report.clips, "clip"));
    fmt::print("The clips still show whoever was on the ice. Hand them only to those who may see them, and "
               "where players are "
               "minors, only with the consent of those who answer for them.\n");
}

} // namespace

void add_extract(CLI::App& app, Job& chosen) {
    auto call = std::make_shared<ExtractCall>();
    CLI::App* verb =
        app.add_subcommand("extract", "One goalie's shots and clips as a season of their own, and no other "
                                      "goalie's name, mark or frame");
    verb->add_option("SEASON", call->season, "The season file (*.season)")->required();
    verb->add_option("--goalie", call->goalie, "Whose; not needed where the season has one")
        ->type_name("NAME");
    verb->add_option("-o,--output", call->into, "The season to write; its clips go beside it into NAME clips")
        ->type_name("FILE.season")
        ->required();
    verb->add_flag(
        "--notes", call->options.notes,
        "With the coach's notes; they may name other players, those that name another goalie stay out");
    verb->callback([call, &chosen] { chosen = [call] { extract(*call); }; });
}

} // namespace ropeline
