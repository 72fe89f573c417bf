// The start page: recent seasons, a new one, the practice film that can be made from there.
#pragma once

#include "desk/state/detached_work.h"
#include "desk/state/new_season.h"
#include "desk/state/practice_film.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace ropeline {

struct StartPage {
    NewSeasonForm form;
    FormTrouble field_trouble;
    std::string trouble; ///< a season that could not be opened, shown over the recent ones
    std::optional<DetachedWork<FormTrouble>> checking; ///< the new season's places, before it is made
    bool to_form = false;                              ///< the first empty field takes the keys
    std::optional<std::vector<bool>> there;            ///< which of the recent seasons are where they were
    std::optional<DetachedWork<std::vector<bool>>> looking;
    MakeFilm make_practice_film;
    std::unique_ptr<PracticeFilm> practice; ///< while it is being made
    int practice_shown = 0;                 ///< its per cent on screen
};

} // namespace ropeline
