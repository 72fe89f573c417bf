#include "season/check_season.h"
#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <algorithm>

namespace ropeline {
namespace {

struct CheckCall {
    std::string season;
    bool repair = false;
};

void check(const CheckCall& call) {
    if (call.repair) {
        fmt::print("{}\n", repair_season(call.season));
        return;
    }
    const auto lines = check_season(call.season);
    for (const CheckLine& line : lines)
        fmt::print("{} {}\n", line.fine ? "ok     " : "trouble", line.text);
    const auto troubles =
        std::count_if(lines.begin(), lines.end(), [](const CheckLine& line) { return !line.fine; });
    if (troubles > 0)
        throw std::runtime_error(fmt::format("{} of {} checks found trouble; the lines above say what to do",
                                             troubles, lines.size()));
}

} // namespace

void add_check(CLI::App& app, Job& chosen) {
    auto call = std::make_shared<CheckCall>();
    CLI::App* verb = app.add_subcommand("check", "Is a season file sound, and are its films where it says");
    verb->add_option("SEASON", call->season, "The season file (*.season)")->required();
    verb->add_flag("--repair", call->repair,
                   "Put the last backup in the place of a damaged season, which is kept beside it");
    verb->callback([call, &chosen] { chosen = [call] { check(*call); }; });
}

} // namespace ropeline
