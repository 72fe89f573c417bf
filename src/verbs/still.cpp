#include "reel/still.h"

#include "season/whole_file.h"
#include "verbs/chosen_shots.h"
#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <memory>

namespace ropeline {
namespace {

struct StillCall {
    std::string season, shot, path, at;
    StillOptions options;
};

const ShownMoment& moment_of(const ShownPlay& play, const std::string& at) {
    if (at.empty()) {
        if (const ShownMoment* main = main_moment(play)) return *main;
        throw WrongCall("this shot has no marked moment to show");
    }
    std::string there;
    for (const ShownMoment& shown : play.moments) {
        if (key_of(shown.moment.kind) == at) return shown;
        there += fmt::format("{}{}", there.empty() ? "" : ", ", key_of(shown.moment.kind));
    }
    throw WrongCall(
        fmt::format("this shot has no moment \"{}\"; it has {}", at, there.empty() ? "none" : there));
}

void make(const StillCall& call) {
    const std::string ending = std::filesystem::path(call.path).extension().string();
    if (ending != ".png" && ending != ".svg")
        throw WrongCall(fmt::format("{}: a still is a .png or an .svg file", call.path));
    const SeasonFile file = SeasonFile::open_to_read(call.season);
    auto plays = shown_plays(file, chosen_shots(file, {{}, {call.shot}}));
    if (const auto why = without_film(plays); !why.empty()) throw WrongCall(why.front());
    write_whole_file(call.path, still_of(plays.front(), moment_of(plays.front(), call.at),
                                         ending == ".svg" ? StillKind::svg : StillKind::png, call.options));
    fmt::print("{}\n", call.path);
}

} // namespace

void add_still(CLI::App& app, Job& chosen) {
    auto call = std::make_shared<StillCall>();
    CLI::App* verb =
        app.add_subcommand("still", "One moment of the film with the picture drawn on, as PNG or SVG");
    verb->add_option("SEASON", call->season, "The season file (*.season)")->required();
    verb->add_option("SHOT", call->shot, "The shot's id, as `ropeline summary SEASON --csv DIR` lists it")
        ->required();
    verb->add_option("-o,--output", call->path, "The picture to write, .png or .svg")
        ->type_name("FILE")
        ->required();
    verb->add_option("--moment", call->at,
                     "entry, pass, reception, release or rebound; the one the shot is about when not given");
    verb->add_flag("!--no-words", call->options.words, "Without the words and the puck's eye");
    verb->add_flag("!--no-notes", call->options.note, "Without the coach's note");
    verb->add_option("--width", call->options.width_px, "Width in pixels; the film's when it is not given")
        ->check(CLI::Range(64, 7680))
        ->type_name("PX");
    verb->callback([call, &chosen] { chosen = [call] { make(*call); }; });
}

} // namespace ropeline
