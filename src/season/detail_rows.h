// Inside src/season: what a coach chose to log: the columns of details.h, a shot's tags.
#pragma once

#include "season/details.h"
#include "season/sql.h"

namespace ropeline {

/// The row must be there.
void put_details(SQLite::Database& db, const char* table, const Id& id, const Details& details);
/// Which of the field's choices a stored word is, counted from 1. Throws SeasonError::damaged for a word that it does not have.
int choice_of(const DetailFact& fact, std::string_view key);
/// Throws SeasonError::damaged for a word that the field does not have.
void read_details(const Row& row, Details& details, bool of_moment);
void put_tags(SQLite::Database& db, const Id& shot_id, const std::vector<std::string>& tags);
std::vector<std::string> tags_of(SQLite::Database& db, const Id& shot_id);
/// Throws SeasonError::refused when the pass of one moment went to two opponents.
void refuse_two_receivers(const Moment& moment);

} // namespace ropeline
