#include "verbs/measure.h"

#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <iostream>
#include <iterator>

namespace ropeline {

void add_measure(CLI::App& app, Job& chosen) {
    CLI::App* verb = app.add_subcommand(
        "measure", "Rink clicks and marks as JSON on stdin; positions, depth and reading as JSON "
                   "on stdout");
    verb->callback([&chosen] {
        chosen = [] {
            const std::string request{std::istreambuf_iterator<char>(std::cin),
                                      std::istreambuf_iterator<char>()};
            fmt::print("{}\n", answer_measure(parse_measure_request(request)));
        };
    });
}

} // namespace ropeline
