#include "season/change_log.h"

#include "season/sql.h"

#include <fmt/chrono.h>
#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <ctime>
#include <vector>

namespace ropeline {
namespace {

constexpr std::array<std::string_view, 14> watched = {"season", "parameter",  "team",   "goalie",  "game",
                                                      "film",   "clock_mark", "shot",   "moment",  "mark",
                                                      "threat", "cue",        "answer", "rink_fit"};

struct Columns {
    std::string key;
    std::vector<std::string> all;
};

Columns columns_of(SQLite::Database& db, std::string_view table) {
    Columns columns;
    auto info = ask(db, "SELECT name, pk FROM pragma_table_info(?)", {std::string{table}});
    while (info.executeStep()) {
        columns.all.push_back(info.getColumn(0).getString());
        if (info.getColumn(1).getInt() > 0) columns.key = columns.all.back();
    }
    return columns;
}

/// Each column put into the format, with `between` in between.
std::string join(const std::vector<std::string>& columns, const char* between, const char* each) {
    std::string joined;
    for (const std::string& column : columns) {
        if (!joined.empty()) joined += between;
        joined += fmt::format(fmt::runtime(each), column);
    }
    return joined;
}

void watch(SQLite::Database& db, std::string_view table, std::string_view event, const std::string& when,
           const std::string& statement) {
    db.exec(fmt::format(
        "CREATE TEMP TRIGGER watch_{0}_{1} AFTER {1} ON main.{0} WHEN EXISTS (SELECT 1 FROM change_now){2} "
        "BEGIN INSERT INTO change_step (change_id, statement) SELECT id, {3} FROM change_now; END",
        table, event, when, statement));
}

void watch_table(SQLite::Database& db, std::string_view table) {
    const Columns columns = columns_of(db, table);
    const auto where = [&](const char* row) {
        return fmt::format("' WHERE {0} = ' || quote({1}.{0})", columns.key, row);
    };
    watch(db, table, "INSERT", "", fmt::format("'DELETE FROM {}' || {}", table, where("NEW")));
    watch(db, table, "DELETE", "",
          fmt::format("'INSERT INTO {} ({}) VALUES (' || {} || ')'", table, join(columns.all, ", ", "{}"),
                      join(columns.all, " || ', ' || ", "quote(OLD.{})")));
    watch(db, table, "UPDATE", fmt::format(" AND ({})", join(columns.all, " OR ", "OLD.{0} IS NOT NEW.{0}")),
          fmt::format("'UPDATE {} SET ' || {} || {}", table,
                      join(columns.all, " || ', ' || ", "'{0} = ' || quote(OLD.{0})"), where("NEW")));
}

bool is_watched(const char* table) {
    return table && std::find(watched.begin(), watched.end(), std::string_view{table}) != watched.end();
}

/// The steps come out of a file that anybody may have written: they may touch rows of the season and nothing
/// else.
int allow_season_rows(void*, int action, const char* first, const char*, const char*, const char* trigger) {
    switch (action) {
    case SQLITE_SELECT:
    case SQLITE_READ:
    case SQLITE_FUNCTION:
        return SQLITE_OK;
    case SQLITE_INSERT:
    case SQLITE_UPDATE:
    case SQLITE_DELETE: {
        const bool by_watch = trigger && std::string_view{first} == "change_step";
        const bool made_again = std::string_view{first} == "film_index" || std::string_view{first} == "carry";
        return is_watched(first) || by_watch || made_again ? SQLITE_OK : SQLITE_DENY;
    }
    default:
        return SQLITE_DENY;
    }
}

class Guard {
public:
    explicit Guard(SQLite::Database& db) : db_(db) {
        sqlite3_set_authorizer(db_.getHandle(), allow_season_rows, nullptr);
    }
    ~Guard() { sqlite3_set_authorizer(db_.getHandle(), nullptr, nullptr); }
    Guard(const Guard&) = delete;
    Guard& operator=(const Guard&) = delete;

private:
    SQLite::Database& db_;
};

struct Turn {
    const char* pick;    ///< the change to act on
    std::int64_t undone; ///< what it is afterwards
};
constexpr Turn undoing = {"SELECT id, name FROM change WHERE undone = 0 ORDER BY id DESC LIMIT 1", 1};
constexpr Turn redoing = {"SELECT id, name FROM change WHERE undone = 1 ORDER BY id ASC LIMIT 1", 0};

std::optional<std::string> name_of(SQLite::Database& db, const Turn& turn) {
    SQLite::Statement change{db, turn.pick};
    if (!change.executeStep()) return std::nullopt;
    return change.getColumn(1).getString();
}

bool run(SQLite::Database& db, const Turn& turn) {
    std::int64_t id = 0;
    {
        SQLite::Statement change{db, turn.pick};
        if (!change.executeStep()) return false;
        id = change.getColumn(0).getInt64();
    }
    std::vector<std::string> steps;
    {
        auto step = ask(db, "SELECT statement FROM change_step WHERE change_id = ? ORDER BY id DESC", {id});
        while (step.executeStep())
            steps.push_back(step.getColumn(0).getString());
    }
    db.exec("PRAGMA defer_foreign_keys = ON");
    ask(db, "DELETE FROM change_step WHERE change_id = ?", {id}).exec();
    ask(db, "INSERT INTO change_now (id) VALUES (?)", {id}).exec();
    {
        const Guard guard{db};
        for (const std::string& statement : steps)
            SQLite::Statement{db, statement}.exec();
    }
    db.exec("DELETE FROM change_now");
    ask(db, "UPDATE change SET undone = ? WHERE id = ?", {turn.undone, id}).exec();
    return true;
}

} // namespace

void watch_changes(SQLite::Database& db) {
    db.exec("CREATE TEMP TABLE change_now (id INTEGER PRIMARY KEY)");
    for (const std::string_view table : watched)
        watch_table(db, table);
}

void begin_change(SQLite::Database& db) {
    db.exec("INSERT INTO change_now (id) SELECT coalesce(max(id), 0) + 1 FROM change");
}

void end_change(SQLite::Database& db, const std::string& name) {
    const std::int64_t id = db.execAndGet("SELECT id FROM change_now").getInt64();
    db.exec("DELETE FROM change_now");
    if (!ask(db, "SELECT 1 FROM change_step WHERE change_id = ? LIMIT 1", {id}).executeStep()) return;
    ask(db, "INSERT INTO change (id, name, made_at) VALUES (?, ?, ?)",
        {id, name, fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(std::time(nullptr)))})
        .exec();
    ask(db, "DELETE FROM change WHERE id < ? AND (undone = 1 OR id <= ?)", {id, id - changes_kept}).exec();
}

std::optional<std::string> name_to_undo(SQLite::Database& db) {
    return name_of(db, undoing);
}
std::optional<std::string> name_to_redo(SQLite::Database& db) {
    return name_of(db, redoing);
}
bool undo_change(SQLite::Database& db) {
    return run(db, undoing);
}
bool redo_change(SQLite::Database& db) {
    return run(db, redoing);
}

} // namespace ropeline
