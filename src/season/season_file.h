// The season file: one SQLite file that holds everything a coach logged. Every change is its own transaction,
// named, and can be undone, also after a restart. One connection, used by one thread at a time.
#pragma once

#include "season/counted_play.h"
#include "season/records.h"

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

namespace SQLite {
class Database;
}

namespace ropeline {

enum class SeasonFault {
    not_found,
    not_sqlite,
    not_ours,
    newer,
    damaged,
    read_only,
    disk_full,
    exists,
    locked,
    refused,
    out_of_memory
};

struct SeasonError : std::runtime_error {
    SeasonError(SeasonFault f, const std::string& what) : std::runtime_error(what), fault(f) {}
    SeasonFault fault;
};

class SeasonFile {
public:
    /// Writes a new file (beside, then renamed). Throws SeasonError::exists rather than overwrite.
    static SeasonFile create(const std::filesystem::path& path, Season season);
    /// Opens for writing; an older schema is brought up to date after a backup beside the file.
    /// Throws SeasonError, one line: not SQLite, not ours, newer than this program, read-only ...
    static SeasonFile open(const std::filesystem::path& path);
    /// Opens without ever writing (summary on a read-only medium).
    static SeasonFile open_to_read(const std::filesystem::path& path);
    /// The same for season() and counted_shots() alone: of a large file that was not read through for damage yet, only the
    /// tables that these look at are.
    static SeasonFile open_to_count(const std::filesystem::path& path);
    ~SeasonFile();
    SeasonFile(SeasonFile&&) noexcept;
    SeasonFile& operator=(SeasonFile&&) noexcept;

    /// What opening put aside because it lay beside the file and was not ours, a line each, to be told to the coach.
    const std::vector<std::string>& set_aside() const;

    const std::filesystem::path& path() const;
    Season season() const;
    std::vector<Team> teams() const;
    std::vector<Goalie> goalies() const;
    std::vector<Game> games() const; ///< by date
    std::vector<Film> films(const Id& game_id) const;
    std::vector<StoredFit> rink_fits(const Id& film_id) const;   ///< by frame
    std::vector<ClockMark> clock_marks(const Id& film_id) const; ///< by frame
    std::vector<Shot> shots(const Id& game_id) const;            ///< by film, then frame; on no film: last
    std::vector<Moment> moments(const Id& shot_id) const;        ///< by ordinal, marks included
    std::vector<ShotFact> shot_facts() const;
    /// Shots that count alike, together; in no order.
    CountedShots counted_shots(const CountedOnly& only = {}) const;
    /// Whether some were worked out by an edition of the depth model before that one.
    bool has_figures_before(int model_version) const;
    std::vector<std::string> tags() const; ///< of all shots, each once
    std::set<std::string> asks() const;    ///< fields the card asks for besides its own, by key
    std::vector<Answer> answers() const;   ///< the oldest first

    /// Runs `body` as one transaction under a name ("goalie mark, shot 14") that undo shows. All or nothing:
    /// when anything in `body` fails, nothing of it is kept. A change inside a change is part of the outer
    /// one. A change that alters nothing leaves no trace to undo.
    void change(const std::string& name, const std::function<void()>& body);

    /// A change that follows from a coach's work and is none itself (figures worked out again in the background):
    /// undo passes over it.
    void follow_up(const std::function<void()>& body);

    // Insert when the id is empty (a new id is set); else update, or insert under that id when the file has
    // no such row (an import, a demo that must come out the same twice). Outside change() each is a change of
    // its own. Throws SeasonError::refused, and nothing is changed, for a value that the schema does not
    // allow.
    void
    put(Season& record); ///< parameters included; a file has one season. See recompute() in season/derive.h
    void put(Team& record);
    void put(Goalie& record);
    void put(Game& record);
    void put(Film& record);
    void put(StoredFit& record);
    void put(ClockMark& record); ///< one a frame: that of the same frame is refused under another id
    void put(Shot& record);
    void put(Moment& record); ///< marks, threats and cues included: those no longer listed are removed
    void put(Answer& record);
    void put_ask(const std::string& field, bool on);
    void remove_shot(const Id& id);
    void remove_moment(const Id& id);
    void remove_rink_fit(const Id& id);
    void remove_clock_mark(const Id& id);
    void remove_answer(const Id& id);

    /// Name of the change that undo() / redo() would act on, or nothing.
    std::optional<std::string> undo_name() const;
    std::optional<std::string> redo_name() const;
    /// Takes back (brings back) one change as a coach made it. What is worked out from marks is not in the log: the
    /// moments it touches get their figures from the fits, parameters and rule books that stand then.
    bool undo();
    bool redo();
    /// What stands now becomes the ground: nothing before this can be undone (a season just set up).
    void forget_changes();

    /// For a window, which must not stand still while a disk is slow: from now on a change is there at once, for
    /// every read of this object, and start_commit() brings it to the disk on a thread. A change that finds another
    /// one not yet committed waits for it, so at most one is ever on its way.
    void commit_in_background();
    /// Starts to commit what was changed, or looks after the commit on its way; returns at once.
    /// Throws  SeasonError, once, when it did not get to the disk: then the season is as it was before that change.
    void start_commit();
    /// Waits until the disk has everything. Throws as start_commit() does.
    void wait_for_commit();
    /// Nothing is on its way to the disk: who opens the file now reads all that was changed.
    bool all_committed() const;
    /// Another number when another connection has committed something since it was last asked.
    std::int64_t edition() const;

    /// What a film module found out about a film, kept to open it faster next time; not part of undo.
    void put(const StoredFilmIndex& index);
    std::optional<StoredFilmIndex> film_index(const Id& film_id) const;

    /// What looking a film through found, as far as it went; not part of undo.
    void put(const StoredFilmMarks& marks);
    std::optional<StoredFilmMarks> film_marks(const Id& film_id) const;

    /// Where a clicked fit was carried to, kept so that it need not be carried again; not part of undo. Takes the
    /// place of the fit's stretch that begins on the same frame.
    void put(const StoredCarry& carry);
    /// By frame; without those that were kept by a program that packs them otherwise.
    std::vector<StoredCarry> carries_of(const StoredFit& key) const;
    /// The same of one frame only; nothing when it was not carried there.
    std::optional<StoredCarry> carry_at(const StoredFit& key, std::int64_t frame) const;
    /// A stretch that another one holds now.
    void forget_stretch(const StoredCarry& carry);
    /// The fit was clicked anew: where the old one was carried to counts no more.
    void forget_carry(const Id& rink_fit_id);

    struct Insides; ///< the connection; defined inside src/season

private:
    explicit SeasonFile(std::unique_ptr<Insides> insides);
    void transact(const std::string* name, const std::function<void()>& body); ///< no name: not for undo
    void in_transaction(const std::function<void()>& body);
    bool take_turn(bool (*turn)(SQLite::Database&)); ///< undo or redo
    std::unique_ptr<Insides> insides_;
};

/// Where a film's file is: a relative path starts from the season file's folder.
std::filesystem::path film_path(const SeasonFile& file, const Film& film);
/// What the season keeps of a film's place: relative when it lies in the season file's folder or below, so that the
/// folder can be moved or handed on as a whole.
std::string film_path_to_store(const SeasonFile& file, const std::filesystem::path& film);

/// UUIDv7 of now (RFC 9562, 5.7): sorts by time of creation, can be merged between machines.
Id new_id();

} // namespace ropeline
