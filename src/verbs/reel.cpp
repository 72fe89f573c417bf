#include "reel/reel.h"

#include "verbs/chosen_shots.h"
#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <memory>

namespace ropeline {
namespace {

struct ReelCall {
    std::string season, path;
    ShotChoice choice;
    ReelOptions options;
    bool half = false, silent = false, plain = false, only_main = false;
    std::vector<int> size;
};

void make(ReelCall call) {
    if (std::filesystem::path(call.path).extension() != ".mp4")
        throw WrongCall(fmt::format("{}: a reel is an MP4 file, name it something.mp4", call.path));
    const SeasonFile file = SeasonFile::open_to_read(call.season);
    if (call.options.title.empty()) {
        call.options.title = file.season().name;
        if (!call.choice.goalie.empty()) call.options.title += " · " + call.choice.goalie;
    }
    if (!call.size.empty()) call.options.width_px = call.size[0], call.options.height_px = call.size[1];
    if (call.half) call.options.timing.speed_on = 0.5;
    if (call.plain) call.options.timing.card_s = 0.0;
    if (call.only_main) call.options.timing.stops = ReelTiming::Stops::main;
    call.options.sound = !call.silent;
    const auto plays = chosen_plays(file, call.choice);
    const ReelEnd end = make_reel(plays, call.path, call.options, going_on("reel"));
    if (end == ReelEnd::stopped) throw ReelError("stopped; nothing was written");
    fmt::print("{}\n", call.path);
}

} // namespace

void add_reel(CLI::App& app, Job& chosen) {
    auto call = std::make_shared<ReelCall>();
    CLI::App* verb = app.add_subcommand("reel", "A teaching film of chosen shots: run-up, a freeze at each "
                                                "moment with the picture drawn on, then on");
    verb->add_option("SEASON", call->season, "The season file (*.season)")->required();
    verb->add_option("-o,--output", call->path, "The film to write; its words go beside it as NAME.vtt")
        ->type_name("FILE.mp4")
        ->required();
    verb->add_option("--goalie", call->choice.goalie, "Only this goalie's shots")->type_name("NAME");
    verb->add_option("--shot", call->choice.shots, "Only these shots, in this order")->type_name("ID");
    verb->add_flag("--beside", call->options.beside,
                   "Two shots beside each other, in pairs, up to the moment each is about");
    verb->add_flag("--main", call->only_main, "Freeze once a shot, at the moment it is about");
    verb->add_flag("--half", call->half, "Half speed after the first freeze");
    verb->add_flag("--rink", call->options.rink_while_running,
                   "The rink over the ice while the film runs, wherever a fit reaches");
    verb->add_option("--voice", call->options.voice,
                     "A recording laid over the reel from its beginning; the film is low under it")
        ->type_name("SOUND");
    verb->add_flag("--silent", call->silent, "Without the film's sound");
    verb->add_flag("--no-cards", call->plain, "Without title cards");
    verb->add_flag("!--no-notes", call->options.note, "Without the coach's notes");
    verb->add_option("--title", call->options.title,
                     "Of the first card; the season's name when it is not given");
    verb->add_option("--run-up", call->options.timing.run_up_s, "Seconds before the first moment")
        ->check(CLI::Range(0.0, 60.0))
        ->capture_default_str();
    verb->add_option("--freeze", call->options.timing.freeze_s, "Seconds at each moment")
        ->check(CLI::Range(0.1, 60.0))
        ->capture_default_str();
    verb->add_option("--after", call->options.timing.after_s, "Seconds after the last moment")
        ->check(CLI::Range(0.0, 60.0))
        ->capture_default_str();
    verb->add_option("--size", call->size,
                     "Width and height in pixels, even; the first film's when it is not given")
        ->expected(2)
        ->type_name("PX")
        ->check(CLI::Range(64, 7680));
    verb->add_option("--crf", call->options.crf, "x264's quality: less is better and larger")
        ->check(CLI::Range(0, 51))
        ->capture_default_str();
    verb->add_option("--preset", call->options.preset, "x264's preset: how hard it tries")
        ->check(CLI::IsMember({"ultrafast", "superfast", "veryfast", "faster", "fast", "medium", "slow"}))
        ->capture_default_str();
    verb->callback([call, &chosen] { chosen = [call] { make(*call); }; });
}

} // namespace ropeline
