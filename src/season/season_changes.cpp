// Changes, what follows from them, undo and redo.
#include "season/change_log.h"
#include "season/counted_rows.h"
#include "season/derive.h"
#include "season/season_insides.h"

#include <utility>

namespace ropeline {
namespace {

class Changing {
public:
    explicit Changing(bool& flag) : flag_(flag) { flag_ = true; }
    ~Changing() { flag_ = false; }
    Changing(const Changing&) = delete;
    Changing& operator=(const Changing&) = delete;

private:
    bool& flag_;
};

} // namespace

void SeasonFile::change(const std::string& name, const std::function<void()>& body) {
    transact(&name, body);
}

void SeasonFile::follow_up(const std::function<void()>& body) {
    transact(nullptr, body);
}

void SeasonFile::transact(const std::string* name, const std::function<void()>& body) {
    Insides& insides = *insides_;
    if (insides.changing) {
        try {
            guarded(insides.path, body);
        } catch (...) {
            insides.broken = true;
            throw;
        }
        return;
    }
    in_transaction([&] {
        if (name) begin_change(*insides.db);
        body();
        if (name) end_change(*insides.db, *name);
    });
}

void SeasonFile::in_transaction(const std::function<void()>& body) {
    Insides& insides = *insides_;
    guarded(insides.path, [&] {
        insides.commit_now();
        auto transaction = std::make_unique<Transaction>(*insides.db);
        insides.broken = false;
        {
            const Changing changing{insides.changing};
            body();
            count_what_changed(*insides.db);
        }
        if (insides.broken)
            fail(SeasonFault::refused, insides.path,
                 "a part of the change failed, so nothing of it was kept.");
        auto to_undo = name_to_undo(*insides.db);
        insides.to_undo_before = std::exchange(insides.to_undo, std::move(to_undo));
        insides.uncommitted = std::move(transaction);
        if (!insides.in_background) insides.commit_now();
    });
}

std::optional<std::string> SeasonFile::undo_name() const {
    return insides_->to_undo;
}

std::optional<std::string> SeasonFile::redo_name() const {
    return insides_->read([](SQLite::Database& db) { return name_to_redo(db); });
}

void SeasonFile::forget_changes() {
    in_transaction([&] { insides_->db->exec("DELETE FROM change"); });
}

bool SeasonFile::take_turn(bool (*turn)(SQLite::Database&)) {
    bool done = false;
    in_transaction([&] {
        done = turn(*insides_->db);
        for (const auto& [game_id, shot_ids] : take_touched_shots(*insides_->db))
            recompute(*this, game_id, shot_ids);
    });
    return done;
}

bool SeasonFile::undo() {
    return take_turn(undo_change);
}

bool SeasonFile::redo() {
    return take_turn(redo_change);
}

} // namespace ropeline
