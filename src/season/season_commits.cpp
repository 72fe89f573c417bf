// How a change gets to the disk: at once, or on a thread while the window goes on (a commit syncs five times, and one
// sync took 38 ms).
#include "season/season_insides.h"

#include <chrono>
#include <utility>

namespace ropeline {

void SeasonFile::Insides::start_commit() {
    if (committing.valid()) {
        if (committing.wait_for(std::chrono::seconds{0}) != std::future_status::ready) return;
        wait_for_thread();
    }
    throw_commit_error();
    if (!uncommitted) return;
    try {
        committing = std::async(std::launch::async, [transaction = std::move(uncommitted)]() mutable {
            const auto owned = std::move(transaction); // rolled back here when the disk takes it not
            owned->commit();
        });
    } catch (const std::exception&) { // no thread to be had
        commit_error = std::current_exception();
        to_undo = to_undo_before;
        throw_commit_error();
    }
}

void SeasonFile::Insides::wait_for_thread() {
    if (!committing.valid()) return;
    try {
        committing.get();
    } catch (...) {
        commit_error = std::current_exception();
        to_undo = to_undo_before;
    }
}

void SeasonFile::Insides::throw_commit_error() {
    if (!commit_error) return;
    try {
        std::rethrow_exception(std::exchange(commit_error, nullptr));
    } catch (const SQLite::Exception&) {
        throw;
    } catch (const SeasonError&) {
        throw;
    } catch (const std::exception&) { // no memory, no thread
        fail(SeasonFault::out_of_memory, path,
             "there is not enough memory, so the last change was not kept. Close other programs and do it "
             "again.");
    }
}

void SeasonFile::Insides::commit_now() {
    wait_for_thread();
    throw_commit_error();
    if (!uncommitted) return;
    const auto transaction = std::exchange(uncommitted, nullptr);
    const auto known = std::exchange(to_undo, to_undo_before);
    transaction->commit();
    to_undo = known;
}

void SeasonFile::commit_in_background() {
    insides_->in_background = true;
}

void SeasonFile::start_commit() {
    guarded(insides_->path, [&] { insides_->start_commit(); });
}

bool SeasonFile::all_committed() const {
    const auto& committing = insides_->committing;
    return !insides_->uncommitted &&
           (!committing.valid() || committing.wait_for(std::chrono::seconds{0}) == std::future_status::ready);
}

std::int64_t SeasonFile::edition() const {
    return insides_->read(
        [](SQLite::Database& db) { return db.execAndGet("PRAGMA data_version").getInt64(); });
}

void SeasonFile::wait_for_commit() {
    guarded(insides_->path, [&] { insides_->commit_now(); });
}

} // namespace ropeline
