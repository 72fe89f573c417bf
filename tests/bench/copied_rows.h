// Rows of a season file read once and written many times over, with other keys, past the season's own records: five
// million shots take a minute that way.
#pragma once

#include "season/records.h"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <cstdint>
#include <map>
#include <string>
#include <variant>
#include <vector>

namespace ropeline {

/// UUIDv7 in the order they are asked for, the same for the same seed.
class MadeIds {
public:
    explicit MadeIds(std::uint64_t seed) : seed_(seed) {}
    Id next();

private:
    std::uint64_t seed_, count_ = 0;
};

using CopiedValue = std::variant<std::monostate, std::int64_t, double, std::string>;

/// Inserts rows into some columns of a table.
class CopiedRow {
public:
    CopiedRow(SQLite::Database& db, const char* table, const std::vector<std::string>& columns);
    void put(const std::vector<CopiedValue>& values);

private:
    SQLite::Statement insert_;
};

struct CopiedTable {
    std::vector<std::string> columns;
    std::vector<std::vector<CopiedValue>> rows;
    std::size_t at(const char* column) const;
};

/// A shot with everything under it, keys as they were.
struct PlayRows {
    Id id;
    std::string outcome;
    CopiedTable shot, moment, mark, threat;
};
std::vector<PlayRows> rows_of_plays(SQLite::Database& db);

/// What is a dealt shot's own.
struct DealtShot {
    Id game_id, goalie_id;
    std::int64_t period = 1;
    double clock_s = 0.0;
    std::string outcome, tagged_by;
};

class PlayWriter {
public:
    PlayWriter(SQLite::Database& db, MadeIds& ids);
    void put(const PlayRows& play, const DealtShot& dealt);

private:
    void put_under(const CopiedTable& table, CopiedRow& insert, const char* key, const char* owner);

    MadeIds& ids_;
    CopiedRow shot_, moment_, mark_, threat_;
    std::map<Id, Id> anew_; ///< of the play being written
};

/// The plays that were dealt out, and their game.
void remove_plays(SQLite::Database& db, const std::map<Id, double>& plays);

} // namespace ropeline
