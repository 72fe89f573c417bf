#include "season/take_indexes.h"

#include <SQLiteCpp/Statement.h>

namespace ropeline {

std::vector<std::string> take_indexes_and_triggers(SQLite::Database& db) {
    std::vector<std::string> names, statements;
    SQLite::Statement follows{db, "SELECT type || ' ' || name, sql FROM sqlite_schema "
                                  "WHERE type IN ('index', 'trigger') AND sql IS NOT NULL"};
    while (follows.executeStep()) {
        names.push_back(follows.getColumn(0).getString());
        statements.push_back(follows.getColumn(1).getString());
    }
    follows.reset();
    for (const std::string& name : names)
        db.exec("DROP " + name);
    return statements;
}

} // namespace ropeline
