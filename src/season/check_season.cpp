#include "season/check_season.h"

#include "season/backup.h"
#include "season/connection.h"
#include "season/counted_rows.h"
#include "season/desk_lock.h"
#include "season/schema_text.h"
#include "season/sql.h"

#include <SQLiteCpp/Transaction.h>
#include <fmt/chrono.h>

#include <chrono>

namespace ropeline {
namespace {

std::string local_time(std::filesystem::file_time_type when) {
    const auto system = std::chrono::file_clock::to_sys(when);
    const auto seconds = std::chrono::time_point_cast<std::chrono::seconds>(system);
    return fmt::format("{:%Y-%m-%d %H:%M}", fmt::localtime(std::chrono::system_clock::to_time_t(seconds)));
}

CheckLine integrity(SQLite::Database& db) {
    SQLite::Statement check{db, "PRAGMA integrity_check(1)"};
    const std::string found = check.executeStep() ? check.getColumn(0).getString() : "no answer";
    if (found == "ok") return {true, "file: sound"};
    return {false, fmt::format("file: damaged ({})", found)};
}

CheckLine foreign_keys(SQLite::Database& db) {
    SQLite::Statement check{db, R"(SELECT count(*), min("table") FROM pragma_foreign_key_check)"};
    check.executeStep();
    const int broken = check.getColumn(0).getInt();
    if (broken == 0) return {true, "foreign keys: every row leads to its owner"};
    return {false,
            fmt::format("foreign keys: {} rows lead to an owner that is not there, the first in table {}",
                        broken, check.getColumn(1).getString())};
}

CheckLine version(SQLite::Database& db) {
    const int found = schema_version(db);
    const auto newest = static_cast<int>(schema_versions().size());
    return {true, found == newest ? fmt::format("schema version: {}, the newest", found)
                                  : fmt::format("schema version: {}, brought up to {} when a desk opens it",
                                                found, newest)};
}

/// How many shots are kept otherwise than their facts say; none of a file whose version has no counts.
std::int64_t counted_wrongly(SQLite::Database& db) {
    return schema_version(db) == static_cast<int>(schema_versions().size()) ? shots_counted_wrongly(db) : 0;
}

CheckLine counts(SQLite::Database& db) {
    const std::int64_t wrong = counted_wrongly(db);
    if (wrong == 0) return {true, "counted shots: as their facts say"};
    return {false, fmt::format("counted shots: {} otherwise than their facts say; count anew with: ropeline "
                               "check SEASON --repair",
                               wrong)};
}

/// Counts the shots of a sound season anew where that is needed.
/// Out     how many were kept otherwise than their facts say.
std::int64_t count_anew(const std::filesystem::path& path, SQLite::Database& season) {
    const std::int64_t wrong = guarded(path, [&] { return counted_wrongly(season); });
    if (wrong == 0) return 0;
    const DeskLock lock{path};
    const auto db = connect(path, Access::write);
    guarded(path, [&] {
        SQLite::Transaction transaction{*db, SQLite::TransactionBehavior::IMMEDIATE};
        count_all_shots(*db);
        transaction.commit();
    });
    return wrong;
}

CheckLine film_line(const std::filesystem::path& season, const std::string& stored, std::int64_t bytes) {
    const auto path = (season.parent_path() / stored).lexically_normal();
    std::error_code missing;
    const auto size = std::filesystem::file_size(path, missing);
    if (missing)
        return {false,
                fmt::format("film: {} is missing; open the season on the desk and show where it is now",
                            path.string())};
    if (static_cast<std::int64_t>(size) != bytes)
        return {false, fmt::format("film: {} has {} bytes, the season was logged on a film of {}",
                                   path.string(), size, bytes)};
    return {true, fmt::format("film: {} is there", path.string())};
}

CheckLine backup_line(const std::filesystem::path& season) {
    const auto backup = backup_path(season);
    if (!std::filesystem::exists(backup))
        return {true, "backup: none yet; one is made when a desk closes the season"};
    try {
        connect(backup, Access::read);
    } catch (const SeasonError& error) {
        return {false, fmt::format("backup: of no use ({})", error.what())};
    }
    return {true, fmt::format("backup: {} of {}, sound", backup.string(),
                              local_time(std::filesystem::last_write_time(backup)))};
}

/// Takes the season's file out of the way, with its journal, which belongs to it and to no other file.
std::filesystem::path set_aside(const std::filesystem::path& season) {
    std::filesystem::path aside = season.string() + ".damaged";
    for (int i = 2; std::filesystem::exists(aside); ++i)
        aside = fmt::format("{}.damaged-{}", season.string(), i);
    if (const std::filesystem::path journal = season.string() + "-journal"; std::filesystem::exists(journal))
        std::filesystem::rename(journal, aside.string() + "-journal");
    std::filesystem::rename(season, aside);
    return aside;
}

} // namespace

std::vector<CheckLine> check_season(const std::filesystem::path& path) {
    std::vector<CheckLine> lines;
    std::vector<std::string> put_aside;
    try {
        const auto db = connect(path, Access::read, &put_aside);
        guarded(path, [&] {
            lines.push_back(integrity(*db));
            lines.push_back(foreign_keys(*db));
            lines.push_back(version(*db));
            lines.push_back(counts(*db));
            auto film = ask(*db, "SELECT path, bytes FROM film ORDER BY path");
            while (film.executeStep())
                lines.push_back(film_line(path, film.getColumn(0).getString(), film.getColumn(1).getInt64()));
        });
    } catch (const SeasonError& error) {
        lines.push_back({false, error.what()});
    }
    lines.push_back(backup_line(path));
    for (const std::string& line : put_aside)
        lines.push_back({false, line});
    for (CheckLine& line : lines)
        line.text = one_line(line.text);
    return lines;
}

std::string repair_season(const std::filesystem::path& path) {
    std::vector<std::string> put_aside;
    const auto with_aside = [&](std::string line) {
        for (const std::string& one : put_aside)
            line += "; " + one;
        return line;
    };
    try {
        const auto season = connect(path, Access::read, &put_aside);
        if (const std::int64_t wrong = count_anew(path, *season); wrong > 0)
            return with_aside(fmt::format(
                "{} is sound; shots that were kept otherwise than their facts say are counted anew: {}",
                path.string(), wrong));
        return with_aside(fmt::format("{} is sound; there is nothing to repair", path.string()));
    } catch (const SeasonError& error) {
        switch (error.fault) {
        case SeasonFault::damaged:
        case SeasonFault::not_sqlite:
        case SeasonFault::not_ours:
        case SeasonFault::not_found:
            break;
        case SeasonFault::newer:
        case SeasonFault::read_only:
        case SeasonFault::disk_full:
        case SeasonFault::exists:
        case SeasonFault::locked:
        case SeasonFault::refused:
        case SeasonFault::out_of_memory:
            throw;
        }
    }
    const auto backup = backup_path(path);
    if (!std::filesystem::exists(backup))
        fail(SeasonFault::not_found, path,
             fmt::format("there is no backup ({}). If you keep copies elsewhere, put one there under that "
                         "name and do this again.",
                         backup.string()));
    const DeskLock lock{path};
    const auto sound = connect(backup, Access::read);
    const std::filesystem::path beside = path.string() + ".repaired";
    guarded(path, [&] { copy_season(*sound, beside); });
    std::string kept;
    if (std::filesystem::exists(path))
        kept = fmt::format("; the damaged file is kept as {}", set_aside(path).string());
    std::filesystem::rename(beside, path);
    return with_aside(fmt::format("{} is its backup of {} again{}", path.string(),
                                  local_time(std::filesystem::last_write_time(backup)), kept));
}

} // namespace ropeline
