#include "verbs/verbs.h"

#include "demo/demo.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <memory>
#include <unistd.h>

namespace ropeline {
namespace {

struct DemoCall {
    std::string folder;
    demo::DemoOptions options;
};

/// On a terminal one line that counts up; elsewhere one line a file.
void show(const std::string& what, int per_cent) {
    if (isatty(fileno(stderr))) {
        fmt::print(stderr, "\r{:<16} {:>3} %{}", what, per_cent, per_cent == 100 ? "\n" : "");
    } else if (per_cent == 100) {
        fmt::print(stderr, "{} written\n", what);
    }
}

} // namespace

void add_demo(CLI::App& app, Job& chosen) {
    auto call = std::make_shared<DemoCall>();
    CLI::App* verb = app.add_subcommand(
        "demo", "Writes the demo into a folder: films with known truth and a season around them");
    verb->add_option("DIR", call->folder, "Folder to write into; made if it is not there")->required();
    verb->add_option("--seed", call->options.seed, "Other numbers give other details of the same play")
        ->capture_default_str();
    verb->add_flag("--short", call->options.brief, "Six seconds of film instead of a minute");
    verb->callback([call, &chosen] {
        chosen = [call] {
            demo::write_demo(call->folder, call->options, show);
            fmt::print("{}/demo.season\n", call->folder);
        };
    });
}

} // namespace ropeline
