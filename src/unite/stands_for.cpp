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

using ByLikeness = std::map<std::string, std::set<Id>>;

struct Likenesses {
    ByLikeness by_likeness;
    std::set<Id> ids;
};

Likenesses read(SQLite::Database& db, const Likeness& likeness, const StandsFor& stands_for) {
    Likenesses found;
    SQLite::Statement row{db, likeness.sql};
    while (row.executeStep()) {
        const Id id = stands_for.of(row.getColumn(0).getString());
        std::string key;
        for (int i = 1; i < row.getColumnCount(); ++i) {
            const std::string text = row.getColumn(i).getString();
            key += '\x1f';
            key += i <= likeness.ids ? stands_for.of(text) : std::string{trimmed(text)};
        }
        found.by_likeness[key].insert(id);
        found.ids.insert(id);
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

void join_alike(const Likeness& likeness, const Likenesses& mine, const Likenesses& theirs,
                FoundJoins& found) {
    for (const auto& [key, my_ids] : mine.by_likeness) {
        const auto same = theirs.by_likeness.find(key);
        if (same == theirs.by_likeness.end() || same->second == my_ids) continue;
        const Id& my_id = *my_ids.begin();
        const Id& their_id = *same->second.begin();
        const bool plain = my_ids.size() == 1 && same->second.size() == 1 && !theirs.ids.contains(my_id) &&
                           !mine.ids.contains(their_id);
        if (plain) found.stands_for.join(my_id, their_id);
        if (!likeness.plain) continue;
        found.told.push_back(one_line(
            plain ? fmt::format("both had added the {} {}: it is one now", likeness.plain, last_word(key))
                  : fmt::format("there are several {}s that look alike ({}): all are kept", likeness.label,
                                last_word(key))));
    }
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

FoundJoins find_joins(SQLite::Database& mine, SQLite::Database& theirs) {
    FoundJoins found;
    read_joined(mine, found.stands_for);
    read_joined(theirs, found.stands_for);
    for (const Likeness& likeness : likenesses) {
        const auto my_own = read(mine, likeness, found.stands_for);
        const auto their_own = read(theirs, likeness, found.stands_for);
        join_alike(likeness, my_own, their_own, found);
    }
    return found;
}

} // namespace ropeline
