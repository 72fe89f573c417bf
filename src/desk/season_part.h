// What a season says as a whole, for the Season and Study sides: read from the file when something changed.
#pragma once

#include "desk/state/shot_entry.h"
#include "desk/state/study.h"
#include "season/season_file.h"
#include "sheet/scene.h"
#include "tally/band_table.h"

#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace ropeline {

struct SeasonPart {
    bool stale = true;
    std::vector<ShotFact> facts;
    std::vector<Answer> answers; ///< the oldest first
    std::set<Id> films_there;    ///< whose film is where it was
    std::vector<GoalieTable> tables;
    Id goalie; ///< whose shots the chart shows; empty: all
    Scene chart;
    std::string sentence;       ///< what depth and goals have to do with one another, as far as the shots say
    std::optional<Id> chart_of; ///< the goalie both are of
};

/// Reads the season again.
/// Throws  SeasonError
void refresh_season(SeasonPart& part, const SeasonFile& file, const Season& season);
/// Chart and sentence again when another goalie was chosen.
void refresh_chart(SeasonPart& part, const Season& season);

} // namespace ropeline
