#include "unite/merge.h"

#include "season/beside.h"
#include "season/connection.h"
#include "season/sql.h"
#include "unite/choose.h"
#include "unite/find_conflict.h"
#include "unite/made_beside.h"
#include "unite/removed_rows.h"
#include "unite/standing.h"
#include "unite/write_united.h"

#include <algorithm>
#include <set>

namespace ropeline {
namespace {

struct Decisions {
    std::map<Id, Whose> all, by_a_person;
};

Decisions decide_all(const OpenedFile& mine, const OpenedFile& theirs, const StandsFor& stands_for,
                     const DecideConflict& decide, MergeReport& report) {
    Decisions decisions;
    for (const Id& id : changed_on_both(mine.records, theirs.records)) {
        MergeConflict conflict = conflict_of(mine, theirs, stands_for, id);
        const auto keep = decide ? decide(conflict) : std::nullopt;
        std::optional<Whose> whose;
        if (keep) {
            const bool newer = *keep == Keep::newer;
            whose = newer ? newer_of(mine.records, theirs.records, id)
                          : std::optional{*keep == Keep::mine ? Whose::mine : Whose::theirs};
            if (whose && !newer) decisions.by_a_person.emplace(id, *whose);
        }
        if (whose)
            decisions.all.emplace(id, *whose);
        else
            report.undecided.push_back(std::move(conflict));
    }
    report.decided = static_cast<int>(decisions.all.size());
    return decisions;
}

void tell_what_came_back(const OpenedFile& mine, const OpenedFile& theirs, const StandsFor& stands_for,
                         const Chosen& chosen, MergeReport& report) {
    const auto tell = [&](const std::vector<Id>& ids, const char* done) {
        for (const Id& id : ids) {
            const bool is_mine = mine.records.find_there(id) || !theirs.records.find(id);
            report.told.push_back(fmt::format("removed in one file and {} in the other, so it is kept: {}",
                                              done, what_it_is(is_mine ? mine : theirs, stands_for, id)));
        }
    };
    tell(chosen.kept_although_removed, "changed");
    tell(chosen.kept_as_needed, "needed");
}

/// Shots of the two that lie on one frame under two ids: two reviews of it, and both count.
void tell_of_second_reviews(SQLite::Database& db, MergeReport& report) {
    const int twice =
        db.execAndGet("SELECT coalesce(sum(shots - 1), 0) FROM (SELECT count(*) AS shots FROM shot "
                      "WHERE film_id IS NOT NULL GROUP BY film_id, frame, far_net)")
            .getInt();
    if (twice > 0)
        report.told.push_back(
            fmt::format("{} on the same frame as another: where both coaches logged the same "
                        "one, remove one of the two",
                        twice == 1 ? "1 shot lies" : fmt::format("{} shots lie", twice)));
}

std::map<Id, std::set<Id>> unsettled_shots(SQLite::Database& db, const Chosen& chosen, MergeReport& report) {
    std::map<Id, std::set<Id>> shots;
    SQLite::Statement shot{db, "SELECT game_id, id FROM shot"};
    while (shot.executeStep()) {
        ++report.shots;
        const Id id = shot.getColumn(1).getString();
        if (chosen.figures.contains(id)) continue;
        shots[shot.getColumn(0).getString()].insert(id);
        ++report.worked_out;
    }
    return shots;
}

void work_out(const std::filesystem::path& path, const std::map<Id, std::set<Id>>& shots,
              const Progress& progress) {
    if (shots.empty()) return;
    SeasonFile file = SeasonFile::open(path);
    double done = 0.0;
    for (const auto& [game_id, ids] : shots) {
        recompute(file, game_id, ids);
        if (progress) progress(++done / static_cast<double>(shots.size()));
    }
}

} // namespace

MergeReport merge_seasons(const std::filesystem::path& mine_path, const std::filesystem::path& theirs_path,
                          const std::filesystem::path& into, const DecideConflict& decide,
                          const Progress& progress) {
    MergeReport report;
    const auto my_path = one_name(mine_path), their_path = one_name(theirs_path);
    const auto my_db = connect_to_copy(my_path), their_db = connect_to_copy(their_path);
    guarded(into, [&] {
        const std::set<Id> my_removed = restore_removed(*my_db), their_removed = restore_removed(*their_db);
        FoundJoins joins = find_joins({*my_db, my_removed}, {*their_db, their_removed});
        drop_doubles(*my_db, my_removed, joins.stands_for);
        drop_doubles(*their_db, their_removed, joins.stands_for);
        FileRecords my_records = read_records(*my_db, joins.stands_for, my_removed);
        FileRecords their_records = read_records(*their_db, joins.stands_for, their_removed);
        settle_removals(my_records);
        settle_removals(their_records);
        report.told = std::move(joins.told);
        const OpenedFile mine{*my_db, my_records}, theirs{*their_db, their_records};
        const Decisions decisions = decide_all(mine, theirs, joins.stands_for, decide, report);
        if (!report.undecided.empty()) return;
        const Chosen chosen = choose(my_records, their_records, decisions.all);
        report.brought = chosen.brought;
        report.changed = chosen.changed;
        report.removed = chosen.removed;
        tell_what_came_back(mine, theirs, joins.stands_for, chosen, report);
        make_beside(into, [&](const std::filesystem::path& beside) {
            std::map<Id, std::set<Id>> unsettled;
            {
                const auto db = connect_new(beside, into);
                db->exec(
                    "PRAGMA synchronous = OFF; PRAGMA journal_mode = MEMORY; PRAGMA cache_size = -100000");
                write_united(*db, {*my_db, my_records, my_path}, {*their_db, their_records, their_path},
                             joins.stands_for, chosen, decisions.by_a_person, one_name(into).parent_path());
                tell_of_second_reviews(*db, report);
                unsettled = unsettled_shots(*db, chosen, report);
            }
            work_out(beside, unsettled, progress);
        });
    });
    return report;
}

} // namespace ropeline
