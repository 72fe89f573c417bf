#include "season/change_log.h"

#include "season/dates.h"
#include "season/record_stamps.h"
#include "season/sql.h"

#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <vector>

namespace ropeline {
namespace {

constexpr std::array<std::string_view, 16> watched = {
    "season", "parameter", "team",   "goalie", "game",   "film",     "clock_mark", "shot",
    "moment", "mark",      "threat", "cue",    "answer", "rink_fit", "tag",        "season_asks"};

/// Columns that are worked out, with a space before and after each; `logged_where` says in which rows they are
/// the coach's own all the same.
struct Figures {
    std::string_view table, columns, logged_where;
};

// model_version must not be NULL, so it goes along; working out sets it. A landmark's place is the painted point
// it was clicked for, and a mark without pixels has its place from an import: neither follows from a fit.
constexpr std::array worked_out_columns = {
    Figures{
        "moment",
        " depth_m depth_sigma_m off_angle_m crease_edge_m clearance_m band band_odds square_error_rad "
        "net_angle_rad coverage net_seen open_short_rad open_short_m open_far_rad open_far_m reaction_s "
        "standing_still angle_first turn_share out_share on_post advised_from_m advised_to_m advised_best_m "
        "furthest_m advised_limit limiting_threat depth_error_m shot_open net_left net_left_best came_open "
        "came_open_best came_threat verdict firm turns_on becomes ",
        ""},
    Figures{"threat",
            " pass_s have_s late_s spare_s aims_x_m aims_y_m arrives_x_m arrives_y_m open_on_arrival chance ",
            ""},
    Figures{"mark", " ice_x_m ice_y_m sigma_xx_m2 sigma_xy_m2 sigma_yy_m2 ",
            "{0}.x_px IS NULL OR {0}.moment_id IS NULL"}};

/// Which shots' figures rest on a row of the table; {0} is the row.
struct Reach {
    std::string_view table, shots;
};
constexpr std::array reaches = {
    Reach{"season", "SELECT id FROM shot"},
    Reach{"parameter", "SELECT id FROM shot"},
    Reach{"goalie", "SELECT id FROM shot WHERE goalie_id = {0}.id"},
    Reach{"game", "SELECT id FROM shot WHERE game_id = {0}.id"},
    Reach{"rink_fit", "SELECT shot_id FROM moment WHERE film_id = {0}.film_id"},
    Reach{"shot", "SELECT {0}.id"},
    Reach{"moment", "SELECT {0}.shot_id"},
    Reach{"mark", "SELECT shot_id FROM moment WHERE id = {0}.moment_id"},
    Reach{"threat",
          "SELECT shot_id FROM moment JOIN mark ON mark.moment_id = moment.id WHERE mark.id = {0}.mark_id"},
    Reach{"cue", "SELECT shot_id FROM moment WHERE id = {0}.moment_id"}};

struct Column {
    std::string name;
    std::string_view logged_where; ///< {0} is the row; empty: in every row
};

struct Columns {
    std::string key;
    std::vector<Column> logged;
};

Columns columns_of(SQLite::Database& db, std::string_view table) {
    Columns columns;
    auto info = ask(db, "SELECT name, pk FROM pragma_table_info(?)", {std::string{table}});
    while (info.executeStep()) {
        const std::string name = info.getColumn(0).getString();
        if (info.getColumn(1).getInt() > 0) columns.key = name;
        const auto found = std::ranges::find_if(worked_out_columns, [&](const Figures& one) {
            return one.table == table &&
                   one.columns.find(fmt::format(" {} ", name)) != std::string_view::npos;
        });
        if (found == worked_out_columns.end()) {
            columns.logged.push_back({name, {}});
        } else if (!found->logged_where.empty()) {
            columns.logged.push_back({name, found->logged_where});
        }
    }
    return columns;
}

/// Each column put into a text, with `between` in between.
template <class Text>
std::string join(const std::vector<Column>& columns, std::string_view between, Text text) {
    std::string joined;
    for (const Column& column : columns) {
        if (!joined.empty()) joined += between;
        joined += text(column);
    }
    return joined;
}

std::string name_of(const Column& column) {
    return column.name;
}

/// SQL that says whether the column is the coach's own in that row.
std::string rows_own(const Column& column, std::string_view row) {
    return fmt::format(fmt::runtime(column.logged_where), row);
}

/// SQL that yields the row's value as SQL.
std::string quoted(const Column& column, std::string_view row) {
    if (column.logged_where.empty()) return fmt::format("quote({}.{})", row, column.name);
    return fmt::format("CASE WHEN {} THEN quote({}.{}) ELSE 'NULL' END", rows_own(column, row), row,
                       column.name);
}

/// SQL that yields the statement that brings the row back.
std::string as_insert(std::string_view table, const Columns& columns, std::string_view row) {
    return fmt::format(
        "'INSERT INTO {} ({}) VALUES (' || {} || ')'", table, join(columns.logged, ", ", name_of),
        join(columns.logged, " || ', ' || ", [&](const Column& column) { return quoted(column, row); }));
}

/// SQL that yields "column = old value"; where it is a figure, the column as it then stands.
std::string old_setting(const Column& column) {
    if (column.logged_where.empty()) return fmt::format("'{0} = ' || quote(OLD.{0})", column.name);
    return fmt::format("'{0} = ' || CASE WHEN {1} THEN quote(OLD.{0}) ELSE '{0}' END", column.name,
                       rows_own(column, "OLD"));
}

std::string is_changed(const Column& column) {
    if (column.logged_where.empty()) return fmt::format("OLD.{0} IS NOT NEW.{0}", column.name);
    return fmt::format("(({1}) AND OLD.{0} IS NOT NEW.{0})", column.name, rows_own(column, "OLD"));
}

/// Whether a coach changed it, and not only what follows from the film.
std::string is_changed_by_hand(std::string_view table, const Columns& columns) {
    std::vector<Column> by_hand;
    std::ranges::copy_if(columns.logged, std::back_inserter(by_hand),
                         [&](const Column& column) { return !only_follows(table, column.name); });
    return join(by_hand, " OR ", is_changed);
}

void watch(SQLite::Database& db, std::string_view table, std::string_view event, const std::string& when,
           const std::string& statement, const std::string& stamp) {
    db.exec(fmt::format(
        "CREATE TEMP TRIGGER watch_{0}_{1} AFTER {1} ON main.{0} WHEN EXISTS (SELECT 1 FROM change_now){2} "
        "BEGIN INSERT INTO change_step (change_id, statement) SELECT id, {3} FROM change_now; {4}; END",
        table, event, when, statement, stamp));
}

void watch_table(SQLite::Database& db, std::string_view table) {
    const Columns columns = columns_of(db, table);
    const auto where = [&](const char* row) {
        return fmt::format("' WHERE {0} = ' || quote({1}.{0})", columns.key, row);
    };
    watch(db, table, "INSERT", "", fmt::format("'DELETE FROM {}' || {}", table, where("NEW")),
          return_statements(table));
    const std::string brought_back = as_insert(table, columns, "OLD");
    watch(db, table, "DELETE", "", brought_back, removal_statements(table, columns.key, brought_back));
    watch(db, table, "UPDATE", fmt::format(" AND ({})", join(columns.logged, " OR ", is_changed)),
          fmt::format("'UPDATE {} SET ' || {} || {}", table,
                      join(columns.logged, " || ', ' || ", old_setting), where("NEW")),
          stamp_statement(table, "NEW", is_changed_by_hand(table, columns)));
}

/// While a change is taken back or brought back, the shots it reaches are noted.
void note_touched(SQLite::Database& db, const Reach& reach) {
    for (const auto& [event, row] : {std::pair{"INSERT", "NEW"}, {"UPDATE", "NEW"}, {"DELETE", "OLD"}})
        db.exec(fmt::format("CREATE TEMP TRIGGER touch_{0}_{1} AFTER {1} ON main.{0} "
                            "WHEN EXISTS (SELECT 1 FROM change_now WHERE turning) "
                            "BEGIN INSERT OR IGNORE INTO touched_shot (id) {2}; END",
                            reach.table, event, fmt::format(fmt::runtime(reach.shots), row)));
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
        const std::string_view table{first};
        const bool by_watch =
            trigger && (table == "change_step" || table == "touched_shot" || table == "record_change" ||
                        table == "removed_row" || table == "shot_to_count");
        const bool made_again = table == "film_index" || table == "film_marks" || table == "carry";
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

std::optional<std::string> name_of_change(SQLite::Database& db, const Turn& turn) {
    SQLite::Statement change{db, turn.pick};
    if (!change.executeStep()) return std::nullopt;
    return change.getColumn(1).getString();
}

/// Where one row after the other goes, what it belongs to goes first: the rest goes along with it.
void owners_first(std::vector<std::string>& steps) {
    const auto removes = [](const std::string& step) { return step.starts_with("DELETE "); };
    for (auto from = steps.begin(); from != steps.end();) {
        from = std::find_if(from, steps.end(), removes);
        const auto to = std::find_if_not(from, steps.end(), removes);
        std::reverse(from, to);
        from = to;
    }
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
    owners_first(steps);
    db.exec("PRAGMA defer_foreign_keys = ON; DELETE FROM touched_shot");
    ask(db, "DELETE FROM change_step WHERE change_id = ?", {id}).exec();
    note_change_now(db, id, true);
    run_guarded(db, steps);
    db.exec("DELETE FROM change_now");
    ask(db, "UPDATE change SET undone = ? WHERE id = ?", {turn.undone, id}).exec();
    return true;
}

} // namespace

void run_guarded(SQLite::Database& db, std::span<const std::string> statements) {
    const Guard guard{db};
    for (const std::string& statement : statements)
        SQLite::Statement{db, statement}.exec();
}

std::string row_as_insert(SQLite::Database& db, std::string_view table) {
    return as_insert(table, columns_of(db, table), table);
}

std::vector<std::string> columns_by_hand(SQLite::Database& db, std::string_view table) {
    std::vector<std::string> columns;
    for (const Column& column : columns_of(db, table).logged) {
        if (only_follows(table, column.name)) continue;
        columns.push_back(
            column.logged_where.empty()
                ? fmt::format("{}.{}", table, column.name)
                : fmt::format("CASE WHEN {} THEN {}.{} END", rows_own(column, table), table, column.name));
    }
    return columns;
}

void watch_changes(SQLite::Database& db) {
    begin_sitting(db);
    db.exec("CREATE TEMP TABLE touched_shot (id TEXT PRIMARY KEY NOT NULL)");
    for (const std::string_view table : watched)
        watch_table(db, table);
    for (const Reach& reach : reaches)
        note_touched(db, reach);
}

void begin_change(SQLite::Database& db) {
    note_change_now(db, db.execAndGet("SELECT coalesce(max(id), 0) + 1 FROM change").getInt64(), false);
}

void end_change(SQLite::Database& db, const std::string& name) {
    const std::int64_t id = db.execAndGet("SELECT id FROM change_now").getInt64();
    db.exec("DELETE FROM change_now");
    if (!ask(db, "SELECT 1 FROM change_step WHERE change_id = ? LIMIT 1", {id}).executeStep()) return;
    ask(db, "INSERT INTO change (id, name, made_at) VALUES (?, ?, ?)", {id, name, now_utc()}).exec();
    ask(db, "DELETE FROM change WHERE id < ? AND (undone = 1 OR id <= ?)", {id, id - most_changes}).exec();
}

std::optional<std::string> name_to_undo(SQLite::Database& db) {
    return name_of_change(db, undoing);
}
std::optional<std::string> name_to_redo(SQLite::Database& db) {
    return name_of_change(db, redoing);
}
bool undo_change(SQLite::Database& db) {
    return run(db, undoing);
}
bool redo_change(SQLite::Database& db) {
    return run(db, redoing);
}

std::map<Id, std::set<Id>> take_touched_shots(SQLite::Database& db) {
    std::map<Id, std::set<Id>> shots;
    {
        auto touched = ask(db, "SELECT game_id, id FROM touched_shot JOIN shot USING (id)");
        while (touched.executeStep())
            shots[touched.getColumn(0).getString()].insert(touched.getColumn(1).getString());
    }
    db.exec("DELETE FROM touched_shot");
    return shots;
}

} // namespace ropeline
