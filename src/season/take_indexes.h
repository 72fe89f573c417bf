// Inside src/season and src/unite: a season without its indexes, while very many rows are written to it.
#pragma once

#include <SQLiteCpp/Database.h>

#include <string>
#include <vector>

namespace ropeline {

/// Drops every index that a statement made.
/// Out     the statements, to be run when all rows are in: sorted once instead of row by row.
std::vector<std::string> take_indexes(SQLite::Database& db);

} // namespace ropeline
