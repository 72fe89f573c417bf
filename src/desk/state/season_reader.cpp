#include "desk/state/season_reader.h"

#include <system_error>

namespace ropeline {

namespace {

std::set<Id> films_that_are_there(const SeasonFile& file) {
    std::set<Id> there;
    for (const Game& game : file.games()) {
        for (const Film& film : file.films(game.id)) {
            std::error_code failed;
            if (std::filesystem::is_regular_file(film_path(file, film), failed)) there.insert(film.id);
        }
    }
    return there;
}

} // namespace

ReadSeason read_season(const SeasonFile& file) {
    return {SharedFacts{file.shot_facts()}, file.answers(), films_that_are_there(file)};
}

std::optional<ReadSeason> SeasonReader::read(const WorkOnItsWay& way) {
    if (!file_) file_.emplace(SeasonFile::open_to_read(path_));
    way.report(0.2);
    const std::int64_t edition = file_->edition();
    if (last_ && edition == edition_) return last_;
    ReadSeason made = read_season(*file_);
    if (way.stop.stop_requested()) return std::nullopt;
    way.report(1.0);
    edition_ = edition;
    last_ = made;
    return made;
}

} // namespace ropeline
