// Inside src/publish: which tables go to the server, and whose teams may read which rows.
#pragma once

#include <SQLiteCpp/Database.h>

#include <span>
#include <string>
#include <vector>

namespace ropeline {

struct MirroredTable {
    std::string name, joins;                        ///< joins: what the teams come from
    std::string team = "NULL", other_team = "NULL"; ///< SQL of the names of the teams that a row is about
    bool for_all = false;                           ///< every reader may see it
};
std::span<const MirroredTable> mirrored_tables();

struct MirroredColumn {
    std::string name, type; ///< PostgreSQL's
    bool is_key = false;
};
std::vector<MirroredColumn> columns_of(SQLite::Database& season, const MirroredTable& table);

/// Statements that make the tables, or add columns to those of an older Ropeline, with who may read which rows.
std::string table_statements(SQLite::Database& season);

/// Every row of a table: first the two teams, then its columns.
std::string rows_query(SQLite::Database& season, const MirroredTable& table);

} // namespace ropeline
