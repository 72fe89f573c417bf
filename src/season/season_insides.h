// Inside src/season: what a SeasonFile holds.
#pragma once

#include "season/desk_lock.h"
#include "season/season_file.h"
#include "season/sql.h"

#include <exception>
#include <future>
#include <memory>

namespace ropeline {

/// One transaction, rolled back when it is let go before it was committed. SQLiteCpp's own needs memory to be rolled
/// back when SQLite did that already, and ends the program when there is none.
class Transaction {
public:
    explicit Transaction(SQLite::Database& db) : db_(db) { db_.exec("BEGIN IMMEDIATE"); }
    ~Transaction() {
        if (!committed_) db_.tryExec("ROLLBACK");
    }
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;

    void commit() {
        db_.exec("COMMIT");
        committed_ = true;
    }

private:
    SQLite::Database& db_;
    bool committed_ = false;
};

/// One state of the file for several questions, unless a change is under way, which sees its own.
class OneState {
public:
    explicit OneState(SQLite::Database& db);
    ~OneState() {
        if (begun_) db_.tryExec("COMMIT");
    }
    OneState(const OneState&) = delete;
    OneState& operator=(const OneState&) = delete;

private:
    SQLite::Database& db_;
    bool begun_;
};

struct SeasonFile::Insides {
    std::filesystem::path path;
    std::vector<std::string> set_aside;
    std::unique_ptr<DeskLock>
        lock; // before db: let go after the connection is closed; none when only reading
    std::unique_ptr<SQLite::Database> db;
    bool changing = false;                     ///< inside change()
    bool broken = false;                       ///< something in the change under way has failed
    std::optional<std::string> to_undo;        ///< name of the change that undo() acts on
    std::optional<std::string> to_undo_before; ///< ... if what is not committed yet is lost

    // At most one of these is there: what is still to be committed, the commit on its way, what it failed of.
    std::unique_ptr<Transaction> uncommitted;
    std::future<void> committing;
    std::exception_ptr commit_error;
    bool in_background = false; ///< commits wait for start_commit()

    ~Insides();

    void start_commit();
    void wait_for_thread();    ///< until no commit is on its way
    void throw_commit_error(); ///< once
    void commit_now();         ///< waits until the disk has everything; throws what went wrong on the way

    template <class Body>
    auto read(Body&& body) {
        wait_for_thread();
        return guarded(path, [&] { return body(*db); });
    }
};

} // namespace ropeline
