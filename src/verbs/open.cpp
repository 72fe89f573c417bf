// ropeline open: the desk.
#include "demo/demo.h"
#include "desk/desk.h"
#include "verbs/verbs.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace ropeline {

void add_open(CLI::App& app, Job& chosen) {
    struct Call {
        std::string season, film, trace;
    };
    const auto call = std::make_shared<Call>();
    CLI::App* verb =
        app.add_subcommand("open", "The desk: log, study and sum up a season. With no season, the last one.");
    verb->add_option("season", call->season, "the season file (*.season)");
    verb->add_option("--film", call->film, "a film to open in the season's newest game");
    verb->add_option(
        "--trace", call->trace,
        "write a line for every turn of the window: seconds, its milliseconds, frame shown and wanted");
    verb->callback([call, &chosen] {
        chosen = [call] {
            DeskOptions options;
            if (!call->season.empty()) options.season = call->season;
            if (!call->film.empty()) options.film = call->film;
            if (!call->trace.empty()) options.trace = call->trace;
            options.make_practice_film = [](const std::filesystem::path& folder,
                                            const std::function<void(int)>& report) {
                demo::write_demo(folder, {.seed = 1, .brief = true},
                                 [&](const std::string& what, int per_cent) {
                                     // Two films: the first is half of the way.
                                     report(what == "end_zone.mp4"     ? per_cent / 2
                                            : what == "bench_side.mp4" ? 50 + per_cent / 2
                                                                       : 100);
                                 });
            };
            run_desk(options);
        };
    });
}

} // namespace ropeline
