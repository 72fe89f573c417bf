#include "season/record_stamps.h"

#include "season/sql.h"

#include <algorithm>
#include <array>
#include <initializer_list>

namespace ropeline {
namespace {

/// Which record a row belongs to; {0} is the row. A table that is not here is a record itself.
struct Belongs {
    std::string_view table, record;
};
constexpr std::array belongings = {
    Belongs{"parameter", "(SELECT id FROM season)"},
    Belongs{"season_asks", "(SELECT id FROM season)"},
    Belongs{"tag", "{0}.shot_id"},
    Belongs{"mark", "coalesce({0}.moment_id, {0}.rink_fit_id)"},
    Belongs{"threat", "(SELECT coalesce(moment_id, rink_fit_id) FROM mark WHERE id = {0}.mark_id)"},
    Belongs{"cue", "{0}.moment_id"},
    Belongs{"film_index", "{0}.film_id"},
    Belongs{"film_marks", "{0}.film_id"},
    Belongs{"carry", "{0}.rink_fit_id"}};

/// What a record goes with when that is removed; a table that is not here is removed by itself alone.
struct GoesWith {
    std::string_view table, column, owner;
};
constexpr std::array goes_with = {
    GoesWith{"film", "game_id", "game"},       GoesWith{"rink_fit", "film_id", "film"},
    GoesWith{"shot", "game_id", "game"},       GoesWith{"rink_fit", "carried_from", "rink_fit"},
    GoesWith{"moment", "shot_id", "shot"},     GoesWith{"moment", "same_as", "moment"},
    GoesWith{"answer", "moment_id", "moment"}, GoesWith{"clock_mark", "film_id", "film"}};

constexpr const char* time_now = "strftime('%Y-%m-%dT%H:%M:%fZ', 'now')";
constexpr const char* a_moment_after = "strftime('%Y-%m-%dT%H:%M:%fZ', {}, '+0.001 seconds')";

/// SQL that says whether everything is there that the removed row went with.
std::string is_alone(std::string_view table) {
    std::string all = "1";
    for (const GoesWith& one : goes_with)
        if (one.table == table)
            all += fmt::format(" AND (OLD.{0} IS NULL OR EXISTS (SELECT 1 FROM main.{1} WHERE id = OLD.{0}))",
                               one.column, one.owner);
    return all;
}

bool is_record(std::string_view table) {
    return std::ranges::find(belongings, table, &Belongs::table) == belongings.end();
}

std::string keep_row(std::string_view table, std::string_view row_id, std::string_view as_insert,
                     const std::string& when) {
    return fmt::format("INSERT OR REPLACE INTO removed_row (record_id, of_table, row_id, statement) SELECT "
                       "{}, '{}', OLD.{}, {} WHERE {}",
                       keeper_of(table, "OLD"), table, row_id, as_insert, when);
}

/// A record that nobody was seen changing still has to be known as removed.
std::string note_removal(std::string_view table) {
    const char* when = table == "rink_fit" ? "OLD.carried_from IS NULL" : "1";
    return fmt::format(
        "INSERT OR IGNORE INTO record_change (record_id, sitting, changed_at) SELECT OLD.id, 0, "
        "'1970-01-01T00:00:00.000Z' WHERE {1} AND NOT EXISTS (SELECT 1 FROM main.record_change WHERE "
        "record_id = OLD.id); "
        "UPDATE record_change SET removed_at = CASE WHEN {0} THEN changed_at ELSE removed_at END, along_at = "
        "CASE WHEN {0} AND NOT (SELECT turning FROM change_now) THEN along_at ELSE changed_at END "
        "WHERE record_id = OLD.id AND {1}",
        is_alone(table), when);
}

} // namespace

void begin_sitting(SQLite::Database& db) {
    db.exec("CREATE TEMP TABLE sitting_now (id INTEGER NOT NULL, last_at TEXT NOT NULL DEFAULT '');"
            "INSERT INTO sitting_now (id) VALUES (random());"
            "CREATE TEMP TABLE change_now (id INTEGER PRIMARY KEY, turning INTEGER NOT NULL, sitting INTEGER "
            "NOT NULL, "
            "changed_at TEXT NOT NULL, changed_by TEXT NOT NULL)");
}

void note_change_now(SQLite::Database& db, std::int64_t id, bool turning) {
    db.exec(fmt::format("UPDATE sitting_now SET last_at = max({}, coalesce({}, ''))", time_now,
                        fmt::format(fmt::runtime(a_moment_after), "last_at")));
    ask(db,
        "INSERT INTO change_now (id, turning, sitting, changed_at, changed_by) "
        "SELECT ?, ?, id, last_at, coalesce((SELECT max(reviewer) FROM season), '') FROM sitting_now",
        {id, std::int64_t{turning}})
        .exec();
}

std::string record_of(std::string_view table, std::string_view row) {
    for (const Belongs& one : belongings)
        if (one.table == table) return fmt::format(fmt::runtime(one.record), row);
    return fmt::format("{}.id", row);
}

std::string keeper_of(std::string_view table, std::string_view row) {
    return table == "threat" ? fmt::format("{}.mark_id", row) : record_of(table, row);
}

std::string removal_statements(std::string_view table, std::string_view key, std::string_view as_insert) {
    if (table == "rink_fit")
        return fmt::format("{}; {}",
                           keep_row(table, key, as_insert,
                                    fmt::format("OLD.carried_from IS NULL OR NOT ({})", is_alone(table))),
                           note_removal(table));
    if (is_record(table))
        return fmt::format("{}; {}", keep_row(table, key, as_insert, "1"), note_removal(table));
    if (table == "threat") return keep_row(table, key, as_insert, "1");
    if (table == "parameter" || table == "season_asks") return stamp_statement(table, "OLD", "");
    const std::string still_there =
        table == "tag"   ? "EXISTS (SELECT 1 FROM main.shot WHERE id = OLD.shot_id)"
        : table == "cue" ? "EXISTS (SELECT 1 FROM main.moment WHERE id = OLD.moment_id)"
                         : "EXISTS (SELECT 1 FROM main.moment WHERE id = OLD.moment_id) OR EXISTS (SELECT 1 "
                           "FROM main.rink_fit WHERE id = OLD.rink_fit_id)";
    const std::string forget =
        table == "mark"
            ? fmt::format("; DELETE FROM removed_row WHERE record_id = OLD.id AND ({})", still_there)
            : std::string{};
    return fmt::format("{}; {}{}", keep_row(table, key, as_insert, fmt::format("NOT ({})", still_there)),
                       stamp_statement(table, "OLD", still_there), forget);
}

std::string return_statements(std::string_view table) {
    const std::string stamp = stamp_statement(table, "NEW", "");
    if (!is_record(table) && table != "mark") return stamp;
    return fmt::format("{}; DELETE FROM removed_row WHERE record_id = NEW.id", stamp);
}

bool only_follows(std::string_view table, std::string_view column) {
    const auto is_one_of = [&](std::initializer_list<std::string_view> names) {
        return std::ranges::find(names, column) != names.end();
    };
    if (table == "moment") return is_one_of({"model_version", "rink_fit_id"});
    if (table == "season") return column == "reviewer";
    if (table == "film")
        return is_one_of({"path", "bytes", "width_px", "height_px", "frame_count", "first_s", "last_s"});
    return false;
}

// A clock that is behind another coach's must not make the later change look the older one, hence the time after the
// record's last.
// Source  Lamport, Time, Clocks, and the Ordering of Events in a Distributed System, 1978, rules IR1 and IR2 (from memory).
std::string stamp_statement(std::string_view table, std::string_view row, const std::string& when) {
    const std::string record = record_of(table, row);
    const std::string follows =
        table == "rink_fit" ? fmt::format(" AND {}.carried_from IS NULL", row) : std::string{};
    return fmt::format(
        "INSERT INTO record_change (record_id, sitting, changed_at, changed_by) "
        "SELECT {0}, sitting, max(changed_at, coalesce((SELECT {1} FROM main.record_change AS known "
        "WHERE known.record_id = {0} AND known.sitting <> change_now.sitting), '')), changed_by "
        "FROM change_now WHERE {0} IS NOT NULL{2}{3} "
        "ON CONFLICT (record_id, sitting) DO UPDATE SET changed_at = excluded.changed_at, changed_by = "
        "excluded.changed_by",
        record, fmt::format(fmt::runtime(a_moment_after), "max(known.changed_at)"), follows,
        when.empty() ? "" : fmt::format(" AND ({})", when));
}

} // namespace ropeline
