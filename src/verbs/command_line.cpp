#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <cstdio>
#include <exception>

#include "film/one_line.h"

namespace ropeline {

int run_command_line(int argc, char** argv, std::span<const AddVerb> verbs) {
    CLI::App app{"Ropeline: where the goalie stood, what it cost or saved, and what a season of that says."};
    app.name("ropeline");
    app.require_subcommand(0, 1);
    Job chosen;
    for (const AddVerb add : verbs)
        add(app, chosen);
    try {
        app.parse(argc, argv);
    } catch (const CLI::Success& help) {
        return app.exit(help);
    } catch (const CLI::ParseError& error) {
        fmt::print(stderr,
                   "ropeline: {} (ropeline --help lists the verbs, ropeline VERB --help its options)\n",
                   one_line(error.what()));
        return 2;
    }
    try {
        if (chosen) {
            chosen();
        } else {
            fmt::print("{}", app.help());
        }
        return 0;
    } catch (const WrongCall& error) {
        fmt::print(stderr, "ropeline: {}\n", one_line(error.what()));
        return 2;
    } catch (const std::exception& error) {
        fmt::print(stderr, "ropeline: {}\n", one_line(error.what()));
        return 1;
    }
}

} // namespace ropeline
