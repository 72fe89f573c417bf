// Inside src/season: what a SeasonFile holds.
#pragma once

#include "season/desk_lock.h"
#include "season/season_file.h"
#include "season/sql.h"

#include <memory>

namespace ropeline {

struct SeasonFile::Insides {
    std::filesystem::path path;
    std::unique_ptr<DeskLock>
        lock; // before db: let go after the connection is closed; none when only reading
    std::unique_ptr<SQLite::Database> db;
    bool changing = false; ///< inside change()
    bool broken = false;   ///< something in the change under way has failed

    ~Insides();

    template <class Body>
    auto read(Body&& body) const {
        return guarded(path, [&] { return body(*db); });
    }
};

} // namespace ropeline
