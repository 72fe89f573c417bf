#include "season/connection.h"

#include "season/beside.h"
#include "season/counted_rows.h"
#include "season/schema_text.h"
#include "season/sound_before.h"
#include "season/sql.h"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/Transaction.h>
#include <sqlite3.h>
#include <unistd.h>

#include <algorithm>
#include <map>

namespace ropeline {
namespace {

constexpr int application_id = 0x52706c6e;
constexpr int wait_ms = 2000;
/// One thread at a time asks a connection that only reads, so no answer waits for a lock.
constexpr int only_to_read = SQLITE_OPEN_READONLY | SQLITE_OPEN_NOMUTEX;

/// Settings for files that somebody else may have made, before the first look at one: sqlite.org, "Defense Against The
/// Dark Arts". Tables, views and indexes of the coach's own stay possible, so some limits lie above what we need.
void harden(SQLite::Database& db) {
    sqlite3* handle = db.getHandle();
    sqlite3_db_config(handle, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
    sqlite3_db_config(handle, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
    sqlite3_limit(handle, SQLITE_LIMIT_LENGTH, 256 << 20);
    sqlite3_limit(handle, SQLITE_LIMIT_SQL_LENGTH, 1 << 20);
    sqlite3_limit(handle, SQLITE_LIMIT_COLUMN, 500);
    sqlite3_limit(handle, SQLITE_LIMIT_EXPR_DEPTH, 500);
    sqlite3_limit(handle, SQLITE_LIMIT_COMPOUND_SELECT, 50);
    sqlite3_limit(handle, SQLITE_LIMIT_VDBE_OP, 250'000);
    sqlite3_limit(handle, SQLITE_LIMIT_FUNCTION_ARG, 100);
    sqlite3_limit(handle, SQLITE_LIMIT_ATTACHED, 0);
    sqlite3_limit(handle, SQLITE_LIMIT_TRIGGER_DEPTH, 10);
    sqlite3_limit(handle, SQLITE_LIMIT_VARIABLE_NUMBER, 100);
    db.exec("PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0; PRAGMA temp_store = MEMORY; PRAGMA "
            "foreign_keys = ON");
}

/// One file at rest, and nothing that was acknowledged is lost to a power cut: rollback journal, directory
/// synced too.
void set_up_writing(SQLite::Database& db) {
    db.exec("PRAGMA journal_mode = DELETE; PRAGMA synchronous = EXTRA");
}

void check_kind(SQLite::Database& db, const std::filesystem::path& path) {
    if (db.execAndGet("PRAGMA application_id").getInt() != application_id)
        fail(SeasonFault::not_ours, path,
             "this file is not a season of Ropeline's. Choose a file that Ropeline wrote (*.season).");
    const int version = schema_version(db);
    const int newest = static_cast<int>(schema_versions().size());
    if (version > newest)
        fail(SeasonFault::newer, path,
             fmt::format("this season was written by a newer Ropeline (its version is {}, this program knows "
                         "up to {}). Install the newer Ropeline to open it.",
                         version, newest));
    if (version < 1)
        fail(SeasonFault::damaged, path,
             "the season file has no version. Go back to its last backup with: "
             "ropeline check SEASON --repair");
}

/// A file cut short inside its last page reads as if the rest were zeros.
bool cut_short(SQLite::Database& db, const std::filesystem::path& path) {
    const auto pages =
        db.execAndGet("SELECT page_count * page_size FROM pragma_page_count, pragma_page_size").getInt64();
    return static_cast<std::int64_t>(std::filesystem::file_size(path)) < pages;
}

[[noreturn]] void tell_of_damage(const std::filesystem::path& path, const std::string& found) {
    fail(SeasonFault::damaged, path,
         fmt::format("the season file is damaged ({}). Go back to its last backup with: ropeline check "
                     "SEASON --repair",
                     found));
}

/// The tables that counting looks at; what the shots were counted from is not.
void check_what_counts(SQLite::Database& db, const std::filesystem::path& path) {
    for (const std::string_view table :
         {"season", "parameter", "team", "goalie", "game", "counted_shot", "shot_to_count"})
        if (const std::string found = damage(db, table); !found.empty()) tell_of_damage(path, found);
}

void check_all(SQLite::Database& db, const std::filesystem::path& path, const std::string& state) {
    if (const std::string found = damage(db); !found.empty()) tell_of_damage(path, found);
    if (!state.empty()) remember_as_sound(state);
}

void check_soundness(SQLite::Database& db, const std::filesystem::path& path, Sound sound) {
    if (cut_short(db, path))
        fail(SeasonFault::damaged, path,
             "the end of the season file is missing. Go back to its last backup with: ropeline check SEASON "
             "--repair");
    const auto state = state_of_large_file(path);
    const bool known = state && was_sound_before(*state);
    const auto version = static_cast<std::size_t>(schema_version(db));
    const bool only_counts = state && sound == Sound::what_counts && version == schema_versions().size();
    if (!known && !only_counts) check_all(db, path, state.value_or(""));
    if (!schema_is_ours(db, schema_versions().first(version)))
        fail(SeasonFault::damaged, path,
             "the tables of this season are not as Ropeline made them. Go back to its last backup with: "
             "ropeline check SEASON --repair");
    if (known || !only_counts) return;
    if (has_shots_to_count(db)) return check_all(db, path, *state); // which are worked out from their rows
    check_what_counts(db, path);
}

void check_place(const std::filesystem::path& path) {
    std::error_code ignored;
    const auto status = std::filesystem::status(path, ignored);
    if (status.type() == std::filesystem::file_type::none)
        fail(SeasonFault::read_only, path,
             "you are not allowed to look into this folder. Choose another, or ask its owner.");
    if (!std::filesystem::exists(status))
        fail(SeasonFault::not_found, path, "there is no such file. Check the name, or make a new season.");
    if (std::filesystem::is_directory(status))
        fail(SeasonFault::not_sqlite, path,
             "this is a folder, not a season file. Choose the *.season file in it.");
    if (!std::filesystem::is_regular_file(status))
        fail(SeasonFault::not_sqlite, path, "this is no file. Choose a file that Ropeline wrote (*.season).");
    if (::access(path.c_str(), R_OK) != 0)
        fail(SeasonFault::read_only, path,
             "you are not allowed to read this file. Ask its owner, or choose another.");
}

std::unique_ptr<SQLite::Database> connect_raw(const std::filesystem::path& path, int flags) {
    return guarded(path, [&] {
        auto db = std::make_unique<SQLite::Database>(one_name(path).string(), flags, wait_ms);
        harden(*db);
        return db;
    });
}

/// A writer that was killed leaves a journal; a reader may not roll it back, so a short-lived writer does.
void roll_back_left_over(const std::filesystem::path& path) {
    const auto db = connect_raw(path, SQLite::OPEN_READWRITE);
    guarded(path, [&] { db->execAndGet("SELECT count(*) FROM sqlite_schema"); });
}

std::map<std::string, std::string> ours(SQLite::Database& db) {
    std::map<std::string, std::string> texts;
    SQLite::Statement object{db, "SELECT type || ' ' || name, coalesce(sql, '') FROM sqlite_schema"};
    while (object.executeStep())
        texts[object.getColumn(0).getString()] = object.getColumn(1).getString();
    return texts;
}

/// Whether each statement of the schema stands in the file word for word, as SQLite keeps them: told in a tenth of the time that
/// making the schema anew would take. Never of a file that has what a later version altered.
bool is_word_for_word(const std::map<std::string, std::string>& found, std::string_view schema) {
    constexpr std::string_view begins = "\nCREATE ";
    std::size_t statements = 0, there = 0;
    for (auto at = schema.find(begins); at != std::string_view::npos; at = schema.find(begins, at + 1))
        ++statements;
    for (const auto& [name, sql] : found) {
        if (sql.empty()) continue; // an index that SQLite made for a key
        const bool is_named = sql.find(name.substr(name.find(' '))) != std::string::npos;
        there += is_named && schema.find(fmt::format("\n{};", sql)) != std::string_view::npos ? 1 : 0;
    }
    return there == statements;
}

} // namespace

int schema_version(SQLite::Database& db) {
    return db.execAndGet("PRAGMA user_version").getInt();
}

void apply_schema(SQLite::Database& db, std::span<const std::string_view> versions) {
    // A version that makes a table anew drops the old one, and must not take along what leads to it.
    const bool keys = db.execAndGet("PRAGMA foreign_keys").getInt() != 0;
    db.exec("PRAGMA foreign_keys = OFF");
    {
        SQLite::Transaction transaction{db, SQLite::TransactionBehavior::IMMEDIATE};
        for (auto i = static_cast<std::size_t>(schema_version(db)); i < versions.size(); ++i)
            db.exec(std::string{versions[i]});
        transaction.commit();
    }
    if (keys) db.exec("PRAGMA foreign_keys = ON");
}

bool schema_is_ours(SQLite::Database& db, std::span<const std::string_view> versions) {
    const auto found = ours(db);
    const auto is_trigger = [](const auto& one) { return one.first.starts_with("trigger "); };
    const auto is_written = [&](const auto& one) {
        return versions.front().find(fmt::format("\n{};", one.second)) != std::string_view::npos;
    };
    const bool known_triggers =
        std::ranges::all_of(found, [&](const auto& one) { return !is_trigger(one) || is_written(one); });
    if (versions.size() == 1 && known_triggers && is_word_for_word(found, versions.front())) return true;
    SQLite::Database fresh{":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
    apply_schema(fresh, versions);
    const auto wanted = ours(fresh);
    const auto is_same = [](const auto& all, const auto& one) {
        const auto match = all.find(one.first);
        return match != all.end() && match->second == one.second;
    };
    return std::ranges::all_of(wanted, [&](const auto& one) { return is_same(found, one); }) &&
           std::ranges::all_of(found,
                               [&](const auto& one) { return !is_trigger(one) || is_same(wanted, one); });
}

std::string damage(SQLite::Database& db, std::string_view table) {
    SQLite::Statement check{db, fmt::format("PRAGMA quick_check({})", table.empty() ? "1" : table)};
    const std::string found = check.executeStep() ? check.getColumn(0).getString() : "no answer";
    return found == "ok" ? "" : found;
}

std::unique_ptr<SQLite::Database> connect(const std::filesystem::path& path, Access access,
                                          std::vector<std::string>* set_aside, Sound sound) {
    check_place(path);
    auto lines = set_aside_foreign_journals(path);
    if (set_aside) *set_aside = std::move(lines);
    auto db = connect_raw(path, access == Access::write ? SQLite::OPEN_READWRITE : only_to_read);
    if (access == Access::read) {
        const int result = db->tryExec("SELECT count(*) FROM sqlite_schema");
        if (result == SQLITE_READONLY || result == SQLITE_CANTOPEN) {
            db.reset();
            roll_back_left_over(path);
            db = connect_raw(path, only_to_read);
        }
    }
    guarded(path, [&] {
        if (access == Access::read) db->exec("PRAGMA query_only = ON");
        check_kind(*db, path);
        check_soundness(*db, path, sound);
        if (access == Access::write) {
            if (sqlite3_db_readonly(db->getHandle(), "main") == 1)
                fail(SeasonFault::read_only, path,
                     "the season cannot be written, because the file or its folder is read-only. Copy it to "
                     "a folder of yours and open the copy.");
            set_up_writing(*db);
        }
    });
    return db;
}

std::unique_ptr<SQLite::Database> connect_to_newest(const std::filesystem::path& path,
                                                    std::vector<std::string>* set_aside, Sound sound) {
    auto db = connect(path, Access::read, set_aside, sound);
    if (schema_version(*db) < static_cast<int>(schema_versions().size()))
        fail(SeasonFault::refused, path,
             "this season was written by an older Ropeline. Open it once with: ropeline open SEASON");
    return db;
}

std::unique_ptr<SQLite::Database> connect_to_copy(const std::filesystem::path& path) {
    const auto season = connect_to_newest(path);
    return guarded(path, [&] {
        // Without a name: in memory as far as that goes, the rest in a file that is gone with the connection.
        auto copy = std::make_unique<SQLite::Database>("", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE |
                                                               SQLite::OPEN_NOMUTEX);
        harden(*copy);
        copy_all(*copy, *season);
        return copy;
    });
}

void copy_all(SQLite::Database& into, SQLite::Database& from) {
    const int result = SQLite::Backup{into, from}.executeStep(-1);
    if (result != SQLITE_DONE) throw SQLite::Exception(from.getHandle(), result);
}

std::unique_ptr<SQLite::Database> connect_new(const std::filesystem::path& path,
                                              const std::filesystem::path& wanted) {
    set_aside_foreign_journals(path);
    return guarded(wanted, [&] {
        auto db = std::make_unique<SQLite::Database>(
            path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE | SQLite::OPEN_NOMUTEX, wait_ms);
        harden(*db);
        set_up_writing(*db);
        apply_schema(*db, schema_versions());
        return db;
    });
}

} // namespace ropeline
