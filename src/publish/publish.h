// A season mirrored into a club's or a federation's PostgreSQL, so that their own tools can ask it.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <stdexcept>
#include <string>

namespace ropeline {

/// What was given is no place to publish to.
struct WrongTarget : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// The server could not be reached or did not take it, in one line with its own words.
struct PublishError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

struct PublishReport {
    std::int64_t shots = 0, rows = 0;
};

/// Told now and then how many rows were sent.
using PublishProgress = std::function<void(std::int64_t rows)>;

/// Makes the schema `ropeline` where it is missing (schema/postgresql.sql) and puts the season's rows in the place of those it had
/// there: one transaction, so that readers see the old rows or the new ones, and a second time changes nothing. Blocking; any thread.
/// In      to: a URL (postgresql://user@host/database?sslmode=verify-full) or service=NAME, without a password: libpq takes
///         that from ~/.pgpass or the service file, or asks no one. A desk may have the season open and write to it meanwhile.
/// Throws  WrongTarget, PublishError, SeasonError: one line; then the server has what it had.
PublishReport publish_season(const std::filesystem::path& season, const std::string& to,
                             const PublishProgress& progress = {});

/// Throws  WrongTarget for what libpq cannot read, and for a password on the command line, where other programs and the
///         shell's history see it.
void check_target(const std::string& to);

} // namespace ropeline
