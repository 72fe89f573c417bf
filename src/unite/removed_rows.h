// Inside src/unite: what removed records last held (table removed_row), put back to be looked at and handed on.
#pragma once

#include "unite/stands_for.h"

#include <SQLiteCpp/Database.h>

#include <set>
#include <string>
#include <unordered_set>

namespace ropeline {

/// Puts the rows back into a copy that only this connection sees.
/// Out     the records that the season itself has no more.
std::set<Id> restore_removed(SQLite::Database& copy);

/// Takes a restored row out again where another row of the copy stands for the same record.
void drop_doubles(SQLite::Database& copy, const std::set<Id>& removed, const StandsFor& stands_for);

/// Writes the rows of these records as removed ones; ids are those that stand for a record.
void write_removed(SQLite::Database& into, SQLite::Database& from, const std::unordered_set<Id>& ids,
                   const StandsFor& stands_for);

} // namespace ropeline
