// Reads the log's state out of the season file again; what was open stays open where it is still there.
#pragma once

#include "desk/state/log_state.h"
#include "season/season_file.h"

namespace ropeline {

void reload(const SeasonFile& file, LogState& state);
/// The games's shots, with the clock marks of its films.
void reload_shots(const SeasonFile& file, LogState& state);
/// The rink fits of the film on screen and of the game's others.
void reload_fits(const SeasonFile& file, LogState& state);

} // namespace ropeline
