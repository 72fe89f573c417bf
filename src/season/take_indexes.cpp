#include "season/take_indexes.h"

#include <SQLiteCpp/Statement.h>

namespace ropeline {

std::vector<std::string> take_indexes(SQLite::Database& db) {
    std::vector<std::string> names, statements;
    SQLite::Statement index{db,
                            "SELECT name, sql FROM sqlite_schema WHERE type = 'index' AND sql IS NOT NULL"};
    while (index.executeStep()) {
        names.push_back(index.getColumn(0).getString());
        statements.push_back(index.getColumn(1).getString());
    }
    index.reset();
    for (const std::string& name : names)
        db.exec("DROP INDEX " + name);
    return statements;
}

} // namespace ropeline
