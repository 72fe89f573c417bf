// A season and copies of it that two coaches work on, each for himself.
#pragma once

#include "season/sample.h"
#include "unite/merge.h"

#include <algorithm>
#include <string>

namespace ropeline::sample {

struct Shared {
    Ids ids;
    Id shot, moment;
};

/// A season with one marked shot, as both have it.
inline Shared make_shared_season(const std::filesystem::path& path) {
    SeasonFile file = SeasonFile::create(path, season());
    Shared shared{fill(file), {}, {}};
    Shot one = shot(shared.ids, 40);
    file.put(one);
    Moment marked = moment(one.id, shared.ids);
    file.put(marked);
    std::set<Id> ids{one.id};
    recompute(file, shared.ids.game, ids);
    shared.shot = one.id;
    shared.moment = marked.id;
    return shared;
}

inline void hand_copy(const std::filesystem::path& from, const std::filesystem::path& to) {
    std::filesystem::copy_file(from, to, std::filesystem::copy_options::overwrite_existing);
}

inline void edit(const std::filesystem::path& path, const std::function<void(SeasonFile&)>& body) {
    SeasonFile file = SeasonFile::open(path);
    body(file);
}

inline Shot shot_of(const SeasonFile& file, const Id& id) {
    for (const Game& game : file.games())
        for (const Shot& one : file.shots(game.id))
            if (one.id == id) return one;
    return {};
}

inline void set_outcome(const std::filesystem::path& path, const Id& id, Outcome outcome) {
    edit(path, [&](SeasonFile& file) {
        Shot changed = shot_of(file, id);
        changed.outcome = outcome;
        file.put(changed);
    });
}

inline DecideConflict always(Keep keep) {
    return [keep](const MergeConflict&) { return keep; };
}

/// Who changed what when, as the file knows it.
inline std::string stamps(const std::filesystem::path& path) {
    SQLite::Database db{path.string(), SQLite::OPEN_READONLY};
    SQLite::Statement row{db, "SELECT record_id, sitting, changed_at, changed_by, removed_at, along_at FROM "
                              "record_change ORDER BY record_id, sitting"};
    std::string text;
    while (row.executeStep())
        for (int i = 0; i < 6; ++i)
            text += row.getColumn(i).getString() + (i == 5 ? "\n" : "|");
    return text;
}

} // namespace ropeline::sample
