// Which shots a verb is about, as named on the command line.
#pragma once

#include "reel/shown_play.h"

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

/// Control-C stops what is going on at the next picture, so that nothing half-made is left behind.
void stop_on_interrupt();
bool interrupted();
/// How far it is and how long it will take: on a terminal one line that counts up.
void show_going(const std::string& what, double share, double seconds_left);

} // namespace ropeline
