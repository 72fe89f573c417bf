// Inside src/unite: a goalie's films in a new season: cut, and where each frame went.
#pragma once

#include "season/derive.h"
#include "season/season_file.h"
#include "unite/clip_spans.h"

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace ropeline {

/// A shot with its moments.
struct LoggedPlay {
    Shot shot;
    std::vector<Moment> moments;
};

/// A clip that was cut: what of the old film it holds, and the new film with its own times.
struct CutClip {
    Film film; ///< its id and the season's path are set when it is put
    FrameSpan span;
    double starts_s = 0.0; ///< of its first frame, in the old film's time
    std::vector<std::int64_t> pts;
    std::vector<double> seconds;

    std::int64_t frame_of(std::int64_t old) const { return old - span.first; }
};

struct CutFilms {
    std::map<Id, std::vector<CutClip>> by_film; ///< the old film's id
    std::vector<std::string> told;

    /// The clip that holds the frame; null where there is none.
    const CutClip* clip_with(const Id& film_id, std::int64_t frame) const;
    int count() const;
};

/// Cuts what the plays need of each film into `folder`, which is made when there is something to cut.
CutFilms cut_films(const SeasonFile& season, const std::vector<LoggedPlay>& own,
                   const std::vector<LoggedPlay>& others, const std::filesystem::path& folder,
                   const Progress& progress);

} // namespace ropeline
