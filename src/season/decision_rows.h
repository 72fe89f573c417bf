// Inside src/season: the rows that only a decision has: threats, cues, and what the model says of a moment.
#pragma once

#include "season/sql.h"

namespace ropeline {

/// Nothing for a mark that is no threat.
void put_threat(SQLite::Database& db, const Mark& mark);
void read_threat_row(SQLite::Database& db, Mark& mark);
void put_cues(SQLite::Database& db, const Id& moment_id, const std::vector<Cue>& cues);
std::vector<Cue> cues_of(SQLite::Database& db, const Id& moment_id);

/// A judgement in the moment's row.
std::vector<Cell> judgement_cells(const std::optional<Judgement>& judgement);
std::optional<Judgement> judgement_of(const Row& row);

} // namespace ropeline
