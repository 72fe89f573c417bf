// The page without a season, and the practice film that can be made from there.
#pragma once

#include "desk/state/practice_film.h"

#include <memory>
#include <string>

namespace ropeline {

/// What the first-run page asks for.
struct FirstRunForm {
    std::string season = "My season", league, goalie, team, opponent, date, film, path;
    bool path_typed = false; ///< until then the path follows the season's name
    int rules = 0, level = 2;
};

struct FirstRun {
    FirstRunForm form;
    std::string trouble; ///< shown while no season is open
    MakeFilm make_practice_film;
    std::unique_ptr<PracticeFilm> practice; ///< while it is being made
    int practice_shown = 0;                 ///< its per cent on screen
};

} // namespace ropeline
