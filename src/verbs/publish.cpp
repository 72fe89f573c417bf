#include "publish/publish.h"

#include "sheet/counted.h"
#include "verbs/verbs.h"

#include <CLI/CLI.hpp>
#include <fmt/core.h>

#include <memory>
#include <unistd.h>

namespace ropeline {
namespace {

struct PublishCall {
    std::string season, to;
};

void show_progress(std::int64_t rows) {
    if (rows % 10000 == 0 && isatty(STDERR_FILENO) != 0) fmt::print(stderr, "\rpublish: {} rows sent", rows);
}

void publish(const PublishCall& call) {
    try {
        const PublishReport report = publish_season(call.season, call.to, show_progress);
        if (isatty(STDERR_FILENO) != 0) fmt::print(stderr, "\n");
        fmt::print("{}: {} published, {} in all\n", call.season, counted(report.shots, "shot"),
                   counted(report.rows, "row"));
        fmt::print(
            "Who may read which team is in the table ropeline.team_reader; nobody may until you say so. "
            "Players are on record "
            "there: where they are minors, publish only with the consent of those who answer for them.\n");
    } catch (const WrongTarget& error) {
        throw WrongCall(error.what());
    }
}

} // namespace

void add_publish(CLI::App& app, Job& chosen) {
    auto call = std::make_shared<PublishCall>();
    CLI::App* verb = app.add_subcommand(
        "publish",
        "Mirrors a season into a club's PostgreSQL, for their own tools; a second time changes nothing");
    verb->add_option("SEASON", call->season, "The season file (*.season)")->required();
    verb->add_option("--to", call->to,
                     "Where: postgresql://user@host/database?sslmode=verify-full, or service=NAME; the "
                     "password comes from "
                     "~/.pgpass or the service file")
        ->type_name("URL")
        ->required();
    verb->callback([call, &chosen] { chosen = [call] { publish(*call); }; });
}

} // namespace ropeline
