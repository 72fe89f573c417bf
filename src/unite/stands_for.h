// Inside src/unite: the same team, goalie, game, film or clock mark that two coaches had each added, under two ids. The
// older id stands for both from then on.
#pragma once

#include "season/records.h"

#include <SQLiteCpp/Database.h>

#include <set>
#include <string>
#include <unordered_map>
#include <vector>

namespace ropeline {

class StandsFor {
public:
    /// The record that stands for this one; mostly itself.
    const Id& of(const Id& id) const;
    void join(const Id& one, const Id& other);
    const std::unordered_map<Id, Id>& joined() const { return older_; }

private:
    std::unordered_map<Id, Id> older_; ///< by the younger id
};

struct FoundJoins {
    StandsFor stands_for;
    std::vector<std::string> told; ///< what was joined now and what could not be told apart, a line each
};

/// A season that is looked through for what the other has too, with records it has no more.
struct JoinedFile {
    SQLite::Database& db;
    const std::set<Id>& removed;
};

/// Joins what either file knows to be one, and what both have under different ids and is plainly the same: a team by its
/// name; a goalie by name and team; a game by day and teams; a film by its game and content; a clock mark by its frame.
/// What one file has twice is left as it is; what it had and has again is one.
FoundJoins find_joins(const JoinedFile& mine, const JoinedFile& theirs);

} // namespace ropeline
