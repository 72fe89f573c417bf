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

constexpr const char* time_now = "strftime('%Y-%m-%dT%H:%M:%fZ', 'now')";
constexpr const char* a_moment_after = "strftime('%Y-%m-%dT%H:%M:%fZ', {}, '+0.001 seconds')";

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
