#include "unite/stands_for.h"

#include "season/sql.h"
#include "season/trimmed.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>

namespace ropeline {
namespace {

struct Likeness {
    const char* label;
    const char* sql;             ///< id, then what makes two the same: ids first, then words
    int ids;                     ///< how many of the columns after the id are ids
    const char* plain = nullptr; ///< how it is called when joined; null: not worth a line
};

// In this order: a goalie is looked for when the teams are known.
constexpr std::array likenesses = {
    Likeness{"season", "SELECT id, '' FROM season", 0},
    Likeness{"team", "SELECT id, name FROM team WHERE trim(name) <> ''", 0, "team"},
    Likeness{"goalie", "SELECT id, coalesce(team_id, ''), name FROM goalie WHERE trim(name) <> ''", 1,
             "goalie"},
    Likeness{"game",
             "SELECT id, home_team_id, away_team_id, date FROM game WHERE date IS NOT NULL "
             "AND home_team_id IS NOT NULL AND away_team_id IS NOT NULL",
             2, "game of"},
    Likeness{"film", "SELECT id, game_id, fingerprint FROM film WHERE fingerprint <> ''", 1},
    Likeness{"clock mark", "SELECT id, film_id, frame FROM clock_mark", 1}};

struct Alike {
    std::set<Id> there, all; ///< in the season; with those it has no more
};

struct Likenesses {
    std::map<std::string, Alike> by_likeness;
    std::map<Id, std::string> of;

    const Alike& find(const std::string& key) const {
        static const Alike none;
        const auto found = by_likeness.find(key);
        return found == by_likeness.end() ? none : found->second;
    }
    /// Whether it has none of these under another likeness.
    bool agrees(const std::set<Id>& ids, const std::string& key) const {
        return std::ranges::all_of(ids, [&](const Id& id) {
            const auto found = of.find(id);
            return found == of.end() || found->second == key;
        });
    }
};

Likenesses read(const JoinedFile& file, const Likeness& likeness, const StandsFor& stands_for) {
    Likenesses found;
    SQLite::Statement row{file.db, likeness.sql};
    while (row.executeStep()) {
        const Id own_id = row.getColumn(0).getString();
        const Id id = stands_for.of(own_id);
        std::string key;
        for (int i = 1; i < row.getColumnCount(); ++i) {
            const std::string text = row.getColumn(i).getString();
            key += '\x1f';
            key += i <= likeness.ids ? stands_for.of(text) : std::string{trimmed(text)};
        }
        const bool is_there = !file.removed.contains(own_id);
        Alike& alike = found.by_likeness[key];
        alike.all.insert(id);
        if (is_there) alike.there.insert(id);
        if (is_there || !found.of.contains(id)) found.of[id] = key;
    }
    return found;
}

void read_joined(SQLite::Database& db, StandsFor& stands_for) {
    SQLite::Statement row{db, "SELECT joined_id, record_id FROM joined_record"};
    while (row.executeStep())
        stands_for.join(row.getColumn(0).getString(), row.getColumn(1).getString());
}

std::string last_word(const std::string& key) {
    return key.substr(key.rfind('\x1f') + 1);
}

void join_alike(const Likeness& likeness, const std::string& key, const Likenesses& my_own,
                const Likenesses& their_own, FoundJoins& found) {
    const Alike& mine = my_own.find(key);
    const Alike& theirs = their_own.find(key);
    std::set<Id> all = mine.all;
    all.insert(theirs.all.begin(), theirs.all.end());
    if (all.size() < 2) return;
    const bool plain = mine.there.size() <= 1 && theirs.there.size() <= 1 && my_own.agrees(all, key) &&
                       their_own.agrees(all, key);
    if (plain)
        for (const Id& id : all)
            found.stands_for.join(*all.begin(), id);
    if (!likeness.plain || mine.there.empty() || theirs.there.empty() || mine.there == theirs.there) return;
    found.told.push_back(one_line(
        plain ? fmt::format("both had added the {} {}: it is one now", likeness.plain, last_word(key))
              : fmt::format("there are several {}s that look alike ({}): all are kept", likeness.label,
                            last_word(key))));
}

} // namespace

const Id& StandsFor::of(const Id& id) const {
    const Id* standing = &id;
    for (auto older = older_.find(id); older != older_.end(); older = older_.find(*standing))
        standing = &older->second; // each is older than the one before: it ends
    return *standing;
}

void StandsFor::join(const Id& one, const Id& other) {
    const Id a = of(one), b = of(other);
    if (a != b) older_[std::max(a, b)] = std::min(a, b);
}

FoundJoins find_joins(const JoinedFile& mine, const JoinedFile& theirs) {
    FoundJoins found;
    read_joined(mine.db, found.stands_for);
    read_joined(theirs.db, found.stands_for);
    for (const Likeness& likeness : likenesses) {
        const auto my_own = read(mine, likeness, found.stands_for);
        const auto their_own = read(theirs, likeness, found.stands_for);
        std::set<std::string> keys;
        for (const Likenesses* own : {&my_own, &their_own})
            for (const auto& [key, alike] : own->by_likeness)
                keys.insert(key);
        for (const std::string& key : keys)
            join_alike(likeness, key, my_own, their_own, found);
    }
    return found;
}

} // namespace ropeline
