#include "season/sql.h"

#include "season/constraint_words.h"

#include <sqlite3.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

void bind(SQLite::Statement& statement, int index, const Value& value) {
    if (const auto* whole = std::get_if<std::int64_t>(&value)) {
        statement.bind(index, *whole);
    } else if (const auto* real = std::get_if<double>(&value)) {
        if (!std::isfinite(*real))
            throw SeasonError(SeasonFault::refused,
                              "A number that is not finite cannot be kept in a season.");
        statement.bind(index, *real);
    } else if (const auto* text = std::get_if<std::string>(&value)) {
        if (text->find('\0') != std::string::npos)
            throw SeasonError(SeasonFault::refused,
                              "A text with a zero byte in it cannot be kept in a season.");
        statement.bind(index, *text);
    } else {
        statement.bind(index);
    }
}

} // namespace

SQLite::Statement ask(SQLite::Database& db, const std::string& sql, std::initializer_list<Value> parameters) {
    SQLite::Statement statement{db, sql};
    int index = 0;
    for (const Value& parameter : parameters)
        bind(statement, ++index, parameter);
    return statement;
}

void upsert(SQLite::Database& db, const char* table, std::span<const Cell> row) {
    std::string columns, places, updates;
    for (const Cell& cell : row) {
        if (!columns.empty()) {
            columns += ", ";
            places += ", ";
            updates +=
                fmt::format("{}{} = excluded.{}", updates.empty() ? "" : ", ", cell.column, cell.column);
        }
        columns += cell.column;
        places += "?";
    }
    SQLite::Statement statement{
        db, fmt::format("INSERT INTO {} ({}) VALUES ({}) ON CONFLICT ({}) DO UPDATE SET {}", table, columns,
                        places, row.front().column, updates)};
    int index = 0;
    for (const Cell& cell : row)
        bind(statement, ++index, cell.value);
    statement.exec();
}

void Row::unknown_word(const char* column, const std::string& key) {
    throw SeasonError(
        SeasonFault::damaged,
        one_line(fmt::format(
            "The season file says \"{}\" for {}, which is no word this program knows. Was it edited "
            "by hand? Put the word right with sqlite3 (schema/README.md lists them) or go back to a "
            "backup with: ropeline check SEASON --repair",
            key, column)));
}

void refuse_unknown_choice() {
    throw SeasonError(
        SeasonFault::refused,
        "A choice that this program does not know cannot be kept in a season. Choose it again.");
}

std::string one_line(std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    return text;
}

void fail(SeasonFault fault, const std::filesystem::path& path, const std::string& what) {
    throw SeasonError(fault, one_line(fmt::format("{}: {}", path.string(), what)));
}

void fail(const SQLite::Exception& error, const std::filesystem::path& path) {
    switch (error.getErrorCode()) {
    case SQLITE_NOTADB:
        fail(SeasonFault::not_sqlite, path,
             "this is not a season file. Choose a file that Ropeline wrote (*.season).");
    case SQLITE_CORRUPT:
        fail(SeasonFault::damaged, path,
             "the season file is damaged. Go back to its last backup with: ropeline check SEASON --repair");
    case SQLITE_FULL:
        fail(SeasonFault::disk_full, path,
             "the disk is full, so the last change was not kept. Free some space and do it again.");
    case SQLITE_READONLY:
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
        fail(SeasonFault::read_only, path,
             "the season cannot be written, because the file or its folder is read-only. Copy it to a folder "
             "of yours and open the copy.");
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        fail(SeasonFault::locked, path,
             "another program is using the season just now, so nothing was changed. Close it there, then do "
             "it again.");
    case SQLITE_CONSTRAINT:
        fail(SeasonFault::refused, path, constraint_words(error.what()));
    case SQLITE_TOOBIG:
        fail(SeasonFault::refused, path,
             "a text is longer than a season can hold, so nothing was changed. Shorten it.");
    case SQLITE_NOMEM:
        fail(SeasonFault::out_of_memory, path,
             "there is not enough memory, so the last change was not kept. Close other programs and do it "
             "again.");
    case SQLITE_AUTH:
        fail(SeasonFault::damaged, path,
             "what this season keeps for undo was not written by Ropeline, so nothing was changed. Go back "
             "to its last "
             "backup with: ropeline check SEASON --repair");
    case SQLITE_IOERR:
        if (error.getExtendedErrorCode() == SQLITE_IOERR_WRITE) // a quota, a size limit, a stick pulled out
            fail(SeasonFault::disk_full, path,
                 "the disk takes no more data (it is full or failing), so the last change was not kept. Free "
                 "some space or copy the season to another disk, then do it again.");
        fail(SeasonFault::damaged, path,
             "the disk could not be read or written, so the last change was not kept. Copy the season to "
             "another disk.");
    default:
        fail(SeasonFault::damaged, path,
             "the season file could not be used as it is. Go back to its last backup with: ropeline check "
             "SEASON --repair");
    }
}

void fail(const std::filesystem::filesystem_error& error, const std::filesystem::path& path) {
    const bool full = error.code() == std::errc::no_space_on_device;
    fail(full ? SeasonFault::disk_full : SeasonFault::read_only, path,
         full ? std::string{"the disk is full. Free some space and do it again."}
              : fmt::format("{} cannot be used ({}). Choose another folder, or ask its owner.",
                            error.path1().string(), error.code().message()));
}

} // namespace ropeline
