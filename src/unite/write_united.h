// Inside src/unite: the season that two files make, written row by row.
#pragma once

#include "unite/choose.h"
#include "unite/stands_for.h"

#include <SQLiteCpp/Database.h>

#include <filesystem>
#include <map>

namespace ropeline {

struct UnitedInput {
    SQLite::Database& db;
    const FileRecords& records;
    std::filesystem::path path;
};

/// Fills a file of the newest schema in which nothing is.
/// In      `decided`: records for which a person chose; that is a change of theirs, so that nobody is asked again.
///         `home`: the folder that the new season's film paths start from.
/// Throws  SQLite::Exception for rows that the schema does not allow; SeasonError::damaged for those that lead nowhere.
void write_united(SQLite::Database& into, const UnitedInput& mine, const UnitedInput& theirs,
                  const StandsFor& stands_for, const Chosen& chosen, const std::map<Id, Whose>& decided,
                  const std::filesystem::path& home);

} // namespace ropeline
