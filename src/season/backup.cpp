#include "season/backup.h"

#include "season/beside.h"
#include "season/connection.h"
#include "season/sql.h"
#include "season/whole_file.h"

namespace ropeline {

std::filesystem::path backup_path(const std::filesystem::path& season) {
    return season.string() + ".backup";
}

void copy_season(SQLite::Database& db, const std::filesystem::path& copy) {
    put_in_place(copy, [&](const std::filesystem::path& beside) {
        set_aside_foreign_journals(beside);
        SQLite::Database target{beside.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
        copy_all(target, db);
        target.exec("PRAGMA ignore_check_constraints = ON"); // what was written has passed them
        if (const std::string found = damage(target); !found.empty())
            fail(SeasonFault::damaged, copy,
                 fmt::format("the copy is not sound ({}), so it was not kept.", found));
    });
}

bool backup_is_stale(const std::filesystem::path& season) {
    std::error_code none;
    const auto made = std::filesystem::last_write_time(backup_path(season), none);
    return none || made < std::filesystem::last_write_time(season);
}

} // namespace ropeline
