#include "intake/goalie_answers.h"

#include "sheet/text.h"
#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <memory>

namespace ropeline {
namespace {

struct AnswersCall {
    std::string season, path;
};

void take(const AnswersCall& call) {
    auto answers = read_answers(read_answers_file(call.path));
    SeasonFile file = SeasonFile::open(call.season);
    TakenAnswers taken;
    file.follow_up([&] { taken = take_answers(file, std::move(answers)); }); // none of the log's undo
    fmt::print("{}\n", printable(words_of(taken)));
    for (const Id& moment : taken.not_of_season)
        fmt::print(stderr, "this season has no moment {}\n", moment);
}

} // namespace

void add_answers(CLI::App& app, Job& chosen) {
    auto call = std::make_shared<AnswersCall>();
    CLI::App* verb = app.add_subcommand(
        "answers", "Takes in the answers that a goalie saved in a handout; a second time changes nothing");
    verb->add_option("SEASON", call->season, "The season file (*.season)")->required();
    verb->add_option("FILE", call->path, "answers.json, as the handout saved it")->required();
    verb->callback([call, &chosen] { chosen = [call] { take(*call); }; });
}

} // namespace ropeline
