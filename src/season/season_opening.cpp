// Making a season file, opening one, and what is done when it is let go.
#include "season/backup.h"
#include "season/beside.h"
#include "season/change_log.h"
#include "season/connection.h"
#include "season/counted_rows.h"
#include "season/schema_text.h"
#include "season/season_insides.h"
#include "season/sound_before.h"
#include "season/whole_file.h"

#include <sqlite3.h>

namespace ropeline {
namespace {

/// A backup that cannot be written (no room, a read-only folder) must not keep a coach from the season
/// itself.
/// Out     whether there is one now that was found sound.
bool try_to_back_up(SQLite::Database& db, const std::filesystem::path& path) noexcept {
    try {
        if (backup_is_stale(path)) copy_season(db, backup_path(path));
        return true;
    } catch (const std::exception&) {
        return false;
    }
}

/// Another program that wrote to the file leaves its shots to be counted.
void count_what_others_changed(SQLite::Database& db) {
    if (!has_shots_to_count(db)) return;
    Transaction transaction{db};
    count_what_changed(db);
    transaction.commit();
}

} // namespace

void bring_up_to_date(SQLite::Database& db, const std::filesystem::path& path,
                      std::span<const std::string_view> versions) {
    const int version = schema_version(db);
    if (version == static_cast<int>(versions.size())) return;
    copy_season(db, fmt::format("{}.version-{}", path.string(), version));
    apply_schema(db, versions);
}

OneState::OneState(SQLite::Database& db) : db_(db), begun_(sqlite3_get_autocommit(db.getHandle()) != 0) {
    if (begun_) db_.exec("BEGIN");
}

SeasonFile::Insides::~Insides() {
    try {
        commit_now();
    } catch (const std::exception&) {
        // Whoever wants to be told calls wait_for_commit() first.
    }
    if (!lock || !db || !try_to_back_up(*db, path)) return;
    db.reset(); // the last that writes to it
    if (const auto state = state_of_large_file(path)) remember_as_sound(*state);
}

SeasonFile SeasonFile::create(const std::filesystem::path& path, Season season) {
    if (std::filesystem::exists(path))
        fail(SeasonFault::exists, path, "there is such a file already. Open it, or choose another name.");
    const auto folder = std::filesystem::absolute(path).parent_path();
    if (!std::filesystem::is_directory(folder))
        fail(SeasonFault::not_found, path, "there is no such folder. Make it first, or choose another.");
    guarded(path, [&] {
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
    });
    return open(path);
}

SeasonFile SeasonFile::open(const std::filesystem::path& path) {
    auto insides = std::make_unique<Insides>();
    insides->path = one_name(path);
    insides->db = connect(insides->path, Access::write, &insides->set_aside);
    insides->lock = std::make_unique<DeskLock>(insides->path);
    guarded(insides->path, [&] {
        bring_up_to_date(*insides->db, insides->path, schema_versions());
        try_to_back_up(*insides->db, insides->path);
        count_what_others_changed(*insides->db);
        watch_changes(*insides->db);
        insides->to_undo = name_to_undo(*insides->db);
    });
    return SeasonFile{std::move(insides)};
}

SeasonFile SeasonFile::open_to_read(const std::filesystem::path& path) {
    auto insides = std::make_unique<Insides>();
    insides->path = one_name(path);
    insides->db = connect_to_newest(insides->path, &insides->set_aside);
    insides->to_undo = insides->read([](SQLite::Database& db) { return name_to_undo(db); });
    return SeasonFile{std::move(insides)};
}

SeasonFile SeasonFile::open_to_count(const std::filesystem::path& path) {
    auto insides = std::make_unique<Insides>();
    insides->path = one_name(path);
    insides->db = connect_to_newest(insides->path, &insides->set_aside, Sound::what_counts);
    return SeasonFile{std::move(insides)};
}

bool SeasonFile::has_figures_before(int model_version) const {
    return insides_->read([&](SQLite::Database& db) {
        SQLite::Statement older{db, "SELECT EXISTS (SELECT 1 FROM moment WHERE model_version < ?)"};
        older.bind(1, model_version);
        older.executeStep();
        return older.getColumn(0).getInt() != 0;
    });
}

} // namespace ropeline
