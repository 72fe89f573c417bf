// A handout of one shot, small and quickly made.
#pragma once

#include "handout/handout.h"
#include "reel/filmed_season.h"

namespace ropeline::test {

inline HandoutOptions handout_options(const FilmedSeason& filmed) {
    const SeasonFile file = SeasonFile::open_to_read(filmed.season());
    HandoutOptions options;
    for (const Goalie& goalie : file.goalies())
        if (goalie.id == filmed.goalie) options.goalie = goalie;
    options.season = file.season().name;
    options.league = file.season().league;
    options.run_up_s = 0.5;
    options.preset = "ultrafast";
    return options;
}

inline std::vector<ShotFact> facts_of(const FilmedSeason& filmed) {
    auto facts = SeasonFile::open_to_read(filmed.season()).shot_facts();
    std::erase_if(facts, [&](const ShotFact& fact) { return fact.goalie_id != filmed.goalie; });
    return facts;
}

} // namespace ropeline::test
