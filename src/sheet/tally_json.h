// Inside src/sheet: a season's tally as JSON.
#pragma once

#include "tally/season_tally.h"

#include <nlohmann/json_fwd.hpp>

namespace ropeline {

/// {"first_sentence", "further_sentences", "coming_out": {"clear_shots", "passes"}, "decisions", "goal_chance", "given_away",
/// "over_games", "goalies", "cuts": {cut: [{"group", counts}]}}. A share is {"hits", "of", "wilson_95"}, a difference {"value", "interval_95"};
/// null where there is none.
nlohmann::json tally_json(const SeasonTally& tally);

} // namespace ropeline
