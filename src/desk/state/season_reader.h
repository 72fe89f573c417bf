// The season's shots read beside the desk, by a connection of its own: the window does not wait for a long season.
#pragma once

#include "film/background_work.h"
#include "season/season_file.h"

#include <filesystem>
#include <memory>
#include <optional>
#include <set>
#include <vector>

namespace ropeline {

/// Rows that the window and its threads read at the same time and nobody changes.
class SharedFacts {
public:
    SharedFacts() : rows_(std::make_shared<const std::vector<ShotFact>>()) {}
    explicit SharedFacts(std::vector<ShotFact> rows)
        : rows_(std::make_shared<const std::vector<ShotFact>>(std::move(rows))) {}

    const std::vector<ShotFact>& rows() const { return *rows_; }
    operator const std::vector<ShotFact>&() const { return *rows_; }
    auto begin() const { return rows_->begin(); }
    auto end() const { return rows_->end(); }
    std::size_t size() const { return rows_->size(); }
    bool empty() const { return rows_->empty(); }
    /// They are the very same, not only equal.
    bool same_as(const SharedFacts& other) const { return rows_ == other.rows_; }

private:
    std::shared_ptr<const std::vector<ShotFact>> rows_;
};

struct ReadSeason {
    SharedFacts facts;
    std::vector<Answer> answers; ///< the oldest first
    std::set<Id> films_there;    ///< whose film is where it was
};

/// All of it through that connection.
/// Throws  SeasonError
ReadSeason read_season(const SeasonFile& file);

/// Reads a season as it is on the disk; used by one thread at a time.
class SeasonReader {
public:
    explicit SeasonReader(std::filesystem::path path) : path_(std::move(path)) {}
    /// Out     what it read last when nothing was committed since; nothing when it was stopped.
    /// Throws  SeasonError
    std::optional<ReadSeason> read(const WorkOnItsWay& way);

private:
    std::filesystem::path path_;
    std::optional<SeasonFile> file_; ///< opened, and looked through for damage, by the first reading
    std::int64_t edition_ = 0;
    std::optional<ReadSeason> last_;
};

} // namespace ropeline
