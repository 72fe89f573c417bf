// What reel, still and handout share: which shots they are about, as named on the command line, and how far they are.
#pragma once

#include "reel/reel.h"

#include <string>
#include <vector>

namespace ropeline {

struct ShotChoice {
    std::string goalie;             ///< empty: any
    std::vector<std::string> shots; ///< ids; empty: all
};

/// The ids in the order asked for, else the season's own: by game, then by film.
/// Throws  WrongCall for a goalie or a shot that the season has not; names the goalies there are.
std::vector<Id> chosen_shots(const SeasonFile& file, const ShotChoice& choice);

/// The goalie of that name, or the only one with shots when none is named.
/// Throws  WrongCall: names the goalies there are.
Goalie chosen_goalie(const SeasonFile& file, const std::string& name);

/// Those of them that are on a film that is there. Tells on stderr which are left out: by name where they were asked for by
/// name, else how many.
/// Throws  as chosen_shots().
std::vector<ShownPlay> chosen_plays(const SeasonFile& file, const ShotChoice& choice);

/// Control-C stops the work at the next picture, so that nothing half-made is left behind; on a terminal one line says how far
/// `what` is and how long the rest will take.
Going going_on(const std::string& what);

} // namespace ropeline
