// Inside src/season: what SQLite says of a value that the schema does not allow, in the words of a coach.
#pragma once

#include <string>
#include <string_view>

namespace ropeline {

/// In      SQLite's message: "CHECK constraint failed: length(name) <= 500", "UNIQUE constraint failed: table.column".
/// Out     what is wrong, that nothing was changed, what to do. No word of SQL.
std::string constraint_words(std::string_view sqlite_message);

} // namespace ropeline
