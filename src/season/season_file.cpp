#include "season/season_file.h"

#include "season/backup.h"
#include "season/change_log.h"
#include "season/opening.h"
#include "season/schema_text.h"
#include "season/season_insides.h"
#include "season/whole_file.h"

#include <chrono>
#include <utility>

namespace ropeline {
namespace {

/// A backup that cannot be written (no room, a read-only folder) must not keep a coach from the season
/// itself.
void try_to_back_up(SQLite::Database& db, const std::filesystem::path& path) noexcept {
    try {
        if (backup_is_stale(path)) copy_season(db, backup_path(path));
    } catch (const std::exception&) {
        return;
    }
}

void bring_up_to_date(SQLite::Database& db, const std::filesystem::path& path) {
    const int version = schema_version(db);
    if (version == static_cast<int>(schema_versions().size())) return;
    copy_season(db, fmt::format("{}.version-{}", path.string(), version));
    apply_schema(db, schema_versions());
}

/// One name for one file, also through a link, so that two desks see the same lock.
std::filesystem::path one_name(const std::filesystem::path& path) {
    std::error_code unreachable;
    const auto name = std::filesystem::weakly_canonical(path, unreachable);
    return unreachable ? path : name;
}

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

SeasonFile::Insides::~Insides() {
    try {
        keep_all();
    } catch (const std::exception&) {
        // Whoever wants to be told calls wait_until_kept() first.
    }
    if (lock && db) try_to_back_up(*db, path);
}

void SeasonFile::Insides::wait() {
    if (!on_its_way.valid()) return;
    try {
        on_its_way.get();
    } catch (...) {
        lost = std::current_exception();
        to_undo = to_undo_before;
    }
}

void SeasonFile::Insides::throw_what_was_lost() {
    if (lost) std::rethrow_exception(std::exchange(lost, nullptr));
}

void SeasonFile::Insides::keep_all() {
    wait();
    throw_what_was_lost();
    if (!open) return;
    const auto transaction = std::exchange(open, nullptr);
    const auto known = std::exchange(to_undo, to_undo_before);
    transaction->commit();
    to_undo = known;
}

SeasonFile::SeasonFile(std::unique_ptr<Insides> insides) : insides_(std::move(insides)) {}
SeasonFile::~SeasonFile() = default;
SeasonFile::SeasonFile(SeasonFile&&) noexcept = default;
SeasonFile& SeasonFile::operator=(SeasonFile&&) noexcept = default;

SeasonFile SeasonFile::create(const std::filesystem::path& path, Season season) {
    if (std::filesystem::exists(path))
        fail(SeasonFault::exists, path, "there is such a file already. Open it, or choose another name.");
    const auto folder = std::filesystem::absolute(path).parent_path();
    if (!std::filesystem::is_directory(folder))
        fail(SeasonFault::not_found, path, "there is no such folder. Make it first, or choose another.");
    put_in_place(path, [&](const std::filesystem::path& beside) {
        std::filesystem::remove(beside.string() + "-journal"); // of an earlier try that was cut off
        auto insides = std::make_unique<Insides>();
        insides->path = path;
        insides->db = connect_new(beside, path);
        watch_changes(*insides->db);
        SeasonFile file{std::move(insides)};
        file.put(season);
        file.insides_->db->exec("DELETE FROM change"); // a season cannot be undone into no season
    });
    return open(path);
}

SeasonFile SeasonFile::open(const std::filesystem::path& path) {
    auto insides = std::make_unique<Insides>();
    insides->path = one_name(path);
    insides->db = connect(insides->path, Access::write);
    insides->lock = std::make_unique<DeskLock>(insides->path);
    guarded(insides->path, [&] {
        bring_up_to_date(*insides->db, insides->path);
        try_to_back_up(*insides->db, insides->path);
        watch_changes(*insides->db);
        insides->to_undo = name_to_undo(*insides->db);
    });
    return SeasonFile{std::move(insides)};
}

SeasonFile SeasonFile::open_to_read(const std::filesystem::path& path) {
    auto insides = std::make_unique<Insides>();
    insides->path = one_name(path);
    insides->db = connect(insides->path, Access::read);
    if (schema_version(*insides->db) < static_cast<int>(schema_versions().size()))
        fail(SeasonFault::refused, path,
             "this season was written by an older Ropeline. Open it once with: ropeline open SEASON");
    insides->to_undo = insides->read([](SQLite::Database& db) { return name_to_undo(db); });
    return SeasonFile{std::move(insides)};
}

const std::filesystem::path& SeasonFile::path() const {
    return insides_->path;
}

void SeasonFile::change(const std::string& name, const std::function<void()>& body) {
    transact(&name, body);
}

void SeasonFile::settle(const std::function<void()>& body) {
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
        insides.broken = false;
        if (name) begin_change(*insides.db);
        body();
        if (insides.broken)
            fail(SeasonFault::refused, insides.path,
                 "a part of the change failed, so nothing of it was kept.");
        if (name) end_change(*insides.db, *name);
    });
}

void SeasonFile::in_transaction(const std::function<void()>& body) {
    Insides& insides = *insides_;
    guarded(insides.path, [&] {
        insides.keep_all();
        auto transaction =
            std::make_unique<SQLite::Transaction>(*insides.db, SQLite::TransactionBehavior::IMMEDIATE);
        {
            const Changing changing{insides.changing};
            body();
        }
        auto to_undo = name_to_undo(*insides.db);
        insides.to_undo_before = std::exchange(insides.to_undo, std::move(to_undo));
        insides.open = std::move(transaction);
        if (!insides.left_to_keep) insides.keep_all();
    });
}

void SeasonFile::leave_to_keep() {
    insides_->left_to_keep = true;
}

void SeasonFile::keep() {
    Insides& insides = *insides_;
    guarded(insides.path, [&] {
        if (insides.on_its_way.valid()) {
            if (insides.on_its_way.wait_for(std::chrono::seconds{0}) != std::future_status::ready) return;
            insides.wait();
        }
        insides.throw_what_was_lost();
        if (!insides.open) return;
        insides.on_its_way =
            std::async(std::launch::async, [transaction = std::move(insides.open)]() mutable {
                const auto owned = std::move(transaction); // rolled back here when the disk takes it not
                owned->commit();
            });
    });
}

void SeasonFile::wait_until_kept() {
    guarded(insides_->path, [&] { insides_->keep_all(); });
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

bool SeasonFile::undo() {
    bool done = false;
    in_transaction([&] { done = undo_change(*insides_->db); });
    return done;
}

bool SeasonFile::redo() {
    bool done = false;
    in_transaction([&] { done = redo_change(*insides_->db); });
    return done;
}

std::filesystem::path film_path(const SeasonFile& file, const Film& film) {
    return (file.path().parent_path() / film.path).lexically_normal();
}

std::string film_path_to_keep(const SeasonFile& file, const std::filesystem::path& film) {
    std::error_code unreachable;
    const auto folder = std::filesystem::weakly_canonical(film.parent_path(), unreachable);
    if (unreachable) return film.string();
    const auto inside = (folder / film.filename()).lexically_relative(file.path().parent_path());
    return inside.empty() || *inside.begin() == ".." ? film.string() : inside.string();
}

} // namespace ropeline
