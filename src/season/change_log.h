// Inside src/season: undo and redo. TEMP triggers write, for every row a change touches, the statement that
// would take it back into change_step; undoing runs those backwards, while the same triggers write what
// brings the change back. What is worked out from marks (depths, verdicts, places on the ice) is in no step: it is worked
// out anew from what stands after the turn. Source of the technique: sqlite.org, "Automatic Undo/Redo With SQLite".
#pragma once

#include "season/records.h"

#include <SQLiteCpp/Database.h>

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

constexpr std::int64_t most_changes = 500; ///< older ones can no longer be undone

/// Makes the triggers on this connection.
void watch_changes(SQLite::Database& db);

/// What of a table's rows a coach wrote, as SQL that yields it: every column but those that are worked out or only follow
/// from the film or the machine.
std::vector<std::string> columns_by_hand(SQLite::Database& db, std::string_view table);

/// SQL that yields, of a row of the table, the statement that brings it back; what is worked out is not in it.
std::string row_as_insert(SQLite::Database& db, std::string_view table);

/// Runs statements out of a file that anybody may have written: they may touch rows of the season and nothing else.
void run_guarded(SQLite::Database& db, std::span<const std::string> statements);

/// From here until end_change() every step is logged. Call both inside one transaction.
void begin_change(SQLite::Database& db);
/// Names what was logged, forgets what could be redone and what is too old. No steps: no trace.
void end_change(SQLite::Database& db, const std::string& name);

std::optional<std::string> name_to_undo(SQLite::Database& db);
std::optional<std::string> name_to_redo(SQLite::Database& db);

/// Undoes (or redoes) one change inside the caller's transaction; false when there is none.
bool undo_change(SQLite::Database& db);
bool redo_change(SQLite::Database& db);

/// The shots whose figures the turn just made may have changed, by game; asked for once a turn.
std::map<Id, std::set<Id>> take_touched_shots(SQLite::Database& db);

} // namespace ropeline
