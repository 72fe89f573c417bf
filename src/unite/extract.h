// One goalie's part of a season: to hand out, without anybody else's.
#pragma once

#include "season/derive.h"
#include "season/season_file.h"

#include <filesystem>
#include <string>
#include <vector>

namespace ropeline {

struct ExtractOptions {
    bool notes = false; ///< the coach's notes on shots and games, but those that name another goalie
};

struct ExtractReport {
    int shots = 0, clips = 0;
    std::vector<std::string> told; ///< what was left out, a line each
};

/// Writes a new season with this goalie's shots, their figures as they stand, and nobody else's: no other goalie's name, mark or
/// frame is in the file. Their stretches of film lie beside it as films of their own, in the folder "NAME clips"; marks,
/// rink fits and the game clock are moved to those. Undo log, who changed what when, and what only saves time stay behind.
/// In      into: NAME.season, not there yet, nor its clips.
/// Throws  SeasonError, FilmError, one line; then nothing is left behind.
ExtractReport extract_goalie(const SeasonFile& season, const Goalie& goalie,
                             const std::filesystem::path& into, const ExtractOptions& options = {},
                             const Progress& progress = {});

} // namespace ropeline
