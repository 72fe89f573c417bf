// Inside src/season and src/unite: a season without its indexes and triggers, while very many rows are written to it.
#pragma once

#include <SQLiteCpp/Database.h>

#include <string>
#include <vector>

namespace ropeline {

/// Drops every index that a statement made, and the triggers.
/// Out     the statements, to be run when all rows are in: sorted once instead of row by row. Shots are to be counted after that.
std::vector<std::string> take_indexes_and_triggers(SQLite::Database& db);

} // namespace ropeline
