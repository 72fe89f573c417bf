// The season in a terminal, and the same as JSON.
#pragma once

#include "season/counted_play.h"
#include "season/records.h"
#include "tally/band_table.h"

#include <span>
#include <string>

namespace ropeline {

/// A heading, the first sentence (sheet/season_words.h), then per goalie a table by band: logged, shots, on goal, goals, save
/// percentage and its Wilson 95 % interval; then the verdicts on the depth, the model's and, where some were overruled, the
/// reviewer's; then how often the goalie's call was what came.
/// In   asked: which shots these are, in words; empty: all of the season.
std::string summary_text(const Season& season, std::span<const ShotFact> facts,
                         const std::string& asked = {});
std::string summary_text(const Season& season, const CountedShots& shots, const std::string& asked = {});

/// The same figures: {"season": {}, "parameters": {}, "tally": (sheet/tally_json.h), "goalies": [{"goalie", "bands": [],
/// "total": {}, "verdicts": {"model": {}, "reviewed": {}, "overruled"}, "calls": {"read_it", "misread_it"}}]}; shares as numbers, null where there is none; a band of null holds the shots without a depth.
std::string summary_json(const Season& season, std::span<const ShotFact> facts);

} // namespace ropeline
