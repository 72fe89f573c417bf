#include "unite/removed_rows.h"

#include "season/change_log.h"
#include "season/raw_statement.h"
#include "season/record_stamps.h"
#include "season/sql.h"
#include "unite/record_kinds.h"

#include <algorithm>
#include <array>
#include <map>
#include <string_view>
#include <vector>

namespace ropeline {
namespace {

constexpr std::array<std::string_view, 4> parts = {"tag", "mark", "cue", "threat"}; // a threat after its mark

/// Rows of the table that are in the way of none and, where `keepers` says so, belong to one of them.
/// Out     their ids.
std::set<Id> restore(SQLite::Database& copy, std::string_view table, std::string_view key,
                     const std::set<Id>* keepers) {
    std::set<Id> ids;
    std::vector<std::string> statements;
    RawStatement row{copy,
                     fmt::format("SELECT row_id, record_id, statement FROM removed_row WHERE of_table = "
                                 "'{0}' AND row_id NOT IN (SELECT {1} FROM {0})",
                                 table, key)};
    while (row.step()) {
        if (keepers && !keepers->contains(Id{row.text(1)})) continue;
        ids.emplace(row.text(0));
        statements.emplace_back(row.text(2));
    }
    run_guarded(copy, statements);
    return ids;
}

} // namespace

std::set<Id> restore_removed(SQLite::Database& copy) {
    std::set<Id> records;
    if (copy.execAndGet("SELECT count(*) FROM removed_row").getInt64() == 0) return records;
    copy.exec(
        "PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON; DROP INDEX clock_mark_by_film");
    for (const KindFact& fact : kind_facts())
        records.merge(restore(copy, fact.table, "id", nullptr));
    std::set<Id> keepers = records;
    for (const std::string_view part : parts)
        keepers.merge(restore(copy, part, part == "threat" ? "mark_id" : "id", &keepers));
    return records;
}

void drop_doubles(SQLite::Database& copy, const std::set<Id>& removed, const StandsFor& stands_for) {
    if (removed.empty()) return;
    for (const KindFact& fact : kind_facts()) {
        std::map<Id, std::vector<Id>> rows;
        RawStatement row{copy, fmt::format("SELECT id FROM {} ORDER BY id", fact.table)};
        while (row.step())
            rows[stands_for.of(Id{row.text(0)})].emplace_back(row.text(0));
        for (const auto& [id, ids] : rows) {
            if (ids.size() < 2) continue;
            const auto there =
                std::ranges::find_if_not(ids, [&](const Id& one) { return removed.contains(one); });
            const Id& stays = there == ids.end() ? ids.front() : *there;
            for (const Id& one : ids)
                if (one != stays && removed.contains(one))
                    ask(copy, fmt::format("DELETE FROM {} WHERE id = ?", fact.table), {one}).exec();
        }
    }
}

void write_removed(SQLite::Database& into, SQLite::Database& from, const std::unordered_set<Id>& ids,
                   const StandsFor& stands_for) {
    if (ids.empty()) return;
    from.exec("CREATE TEMP TABLE hidden (id TEXT PRIMARY KEY NOT NULL)");
    const auto hide = [&](const Id& id) {
        ask(from, "INSERT OR IGNORE INTO hidden (id) VALUES (?)", {id}).exec();
    };
    for (const Id& id : ids)
        hide(id);
    for (const auto& [younger, older] : stands_for.joined())
        if (ids.contains(stands_for.of(older))) hide(younger);
    RawStatement insert{
        into,
        "INSERT OR REPLACE INTO removed_row (record_id, of_table, row_id, statement) VALUES (?, ?, ?, ?)"};
    const auto write = [&](std::string_view table, std::string_view key) {
        RawStatement row{from,
                         fmt::format("SELECT {0}, {1}.{2}, {3} FROM {1} WHERE {4} IN (SELECT id FROM hidden)",
                                     keeper_of(table, table), table, key, row_as_insert(from, table),
                                     record_of(table, table))};
        while (row.step()) {
            insert.bind_from(1, row, 0);
            insert.bind_text(2, table);
            insert.bind_from(3, row, 1);
            insert.bind_from(4, row, 2);
            insert.run();
        }
    };
    for (const KindFact& fact : kind_facts())
        write(fact.table, "id");
    for (const std::string_view part : parts)
        write(part, part == "threat" ? "mark_id" : "id");
    from.exec("DROP TABLE hidden");
}

} // namespace ropeline
