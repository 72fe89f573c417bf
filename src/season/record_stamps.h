// Inside src/season and src/unite: who changed which record, and when (table record_change). The triggers of change_log.cpp write it, so
// that no way of changing a season can forget it, and undo and redo are changes like any other: a copy of the file that
// still has what was taken back here is the older one.
//
// A record is what a coach sees as one thing: a shot with its tags, a moment with its marks, threats and cues, a fit with
// its landmarks, the season with its figures. Where the film only follows (figures, which fit a moment rests on, fits that
// were carried) nobody changed anything.
#pragma once

#include <SQLiteCpp/Database.h>

#include <cstdint>
#include <string>
#include <string_view>

namespace ropeline {

/// A sitting begins: from here to the closing of this connection a record has one row of its own.
void begin_sitting(SQLite::Database& db);

/// The change of that number begins, now and by the season's reviewer.
void note_change_now(SQLite::Database& db, std::int64_t id, bool turning);

/// SQL that yields the id of the record that a row of the table belongs to; `row` is NEW, OLD or the table.
std::string record_of(std::string_view table, std::string_view row);

/// SQL that yields the id under which a removed row is kept (table removed_row): its record's, of a threat its mark's.
std::string keeper_of(std::string_view table, std::string_view row);

/// The statements of a trigger on a row that is removed: a part's removal is a change of its record, a record's is noted
/// apart from the changes that it has seen, and its rows are kept.
/// In      as_insert: SQL that yields the statement that would bring the row OLD back.
std::string removal_statements(std::string_view table, std::string_view key, std::string_view as_insert);

/// The statements of a trigger on a row that is new, or there again.
std::string return_statements(std::string_view table);

/// Columns that undo brings back although they say nothing of the game: they follow from the film, from where it lies on
/// this machine, from who sits at this desk.
bool only_follows(std::string_view table, std::string_view column);

/// The statement of a trigger that notes the change; `row` is NEW or OLD, `when` SQL that says whether it is one.
std::string stamp_statement(std::string_view table, std::string_view row, const std::string& when);

} // namespace ropeline
