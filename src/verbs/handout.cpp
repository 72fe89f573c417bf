#include "handout/handout.h"

#include "verbs/chosen_shots.h"
#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <algorithm>
#include <memory>

namespace ropeline {
namespace {

struct HandoutCall {
    std::string season, folder, goalie;
    std::vector<std::string> shots;
    HandoutOptions options;
};

void make(HandoutCall call) {
    const SeasonFile file = SeasonFile::open_to_read(call.season);
    const Season season = file.season();
    call.options.goalie = chosen_goalie(file, call.goalie);
    call.options.season = season.name;
    call.options.league = season.league;
    auto plays = chosen_plays(file, {call.options.goalie.name, call.shots});
    std::erase_if(plays,
                  [&](const ShownPlay& play) { return play.shot.goalie_id != call.options.goalie.id; });
    auto facts = file.shot_facts();
    std::erase_if(facts, [&](const ShotFact& fact) { return fact.goalie_id != call.options.goalie.id; });
    const ReelEnd end = make_handout(plays, facts, call.folder, call.options, going_on("handout"));
    if (end == ReelEnd::stopped) throw ReelError("stopped; nothing was written");
    fmt::print("{}\n", (std::filesystem::path(call.folder) / "index.html").string());
}

} // namespace

void add_handout(CLI::App& app, Job& chosen) {
    auto call = std::make_shared<HandoutCall>();
    CLI::App* verb = app.add_subcommand("handout", "A page with clips for one goalie: it asks for the call, "
                                                   "then shows the answer; opens without a network");
    verb->add_option("SEASON", call->season, "The season file (*.season)")->required();
    verb->add_option("-o,--output", call->folder, "A new folder to write into")->type_name("DIR")->required();
    verb->add_option("--goalie", call->goalie, "Whose; not needed where the season has one")
        ->type_name("NAME");
    verb->add_option("--shot", call->shots, "Only these shots, in this order")->type_name("ID");
    verb->add_flag("--notes", call->options.notes,
                   "With the coach's notes as they were written: they may name other players");
    verb->callback([call, &chosen] { chosen = [call] { make(*call); }; });
}

} // namespace ropeline
