// Inside src/season: what a SeasonFile holds.
#pragma once

#include "season/desk_lock.h"
#include "season/season_file.h"
#include "season/sql.h"

#include <SQLiteCpp/Transaction.h>

#include <exception>
#include <future>
#include <memory>

namespace ropeline {

struct SeasonFile::Insides {
    std::filesystem::path path;
    std::unique_ptr<DeskLock>
        lock; // before db: let go after the connection is closed; none when only reading
    std::unique_ptr<SQLite::Database> db;
    bool changing = false;                     ///< inside change()
    bool broken = false;                       ///< something in the change under way has failed
    std::optional<std::string> to_undo;        ///< name of the change that undo() acts on
    std::optional<std::string> to_undo_before; ///< ... if what is open or on its way is lost

    // While changes are left to keep(), at most one of these is there: what is still to be brought to the disk,
    // what is on its way there, what went wrong on the way.
    bool left_to_keep = false;
    std::unique_ptr<SQLite::Transaction> open;
    std::future<void> on_its_way;
    std::exception_ptr lost;

    ~Insides();

    void wait();                ///< until nothing is on its way
    void throw_what_was_lost(); ///< once
    void keep_all();            ///< waits until the disk has everything; throws what was lost

    template <class Body>
    auto read(Body&& body) {
        wait();
        return guarded(path, [&] { return body(*db); });
    }
};

} // namespace ropeline
