// Inside src/season and src/unite: the table counted_shot. The file's own triggers note every shot that something was changed of
// (shot_to_count), whoever wrote; what is noted is counted anew from the view shot_facts.
#pragma once

#include <SQLiteCpp/Database.h>

#include <cstdint>
#include <string>

namespace ropeline {

/// A row game_id, goalie_id, counts_as for every shot, as things stand: what was noted and not counted yet is worked out.
std::string counted_rows(SQLite::Database& db);

/// Whether a shot was noted that is not counted yet.
bool has_shots_to_count(SQLite::Database& db);

/// Counts what was noted. Call inside a transaction.
void count_what_changed(SQLite::Database& db);

/// Counts every shot, whatever was noted. Call inside a transaction.
void count_all_shots(SQLite::Database& db);

/// How many shots are kept otherwise than their facts say, those that are noted aside.
std::int64_t shots_counted_wrongly(SQLite::Database& db);

} // namespace ropeline
