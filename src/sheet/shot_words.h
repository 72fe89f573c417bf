// Shots in words: one of them, which of them, and what a lot of verdicts adds up to.
#pragma once

#include "season/records.h"
#include "tally/filter.h"

#include <array>
#include <string>

namespace ropeline {

/// "61 right depth, 12 sat back", in the order of Verdict; empty when there is none.
std::string verdict_words(const std::array<int, 8>& by_verdict);

/// Which shots a filter asks for: "Ilse Tamm, rush, goals, from 2026-11-25"; empty when it asks for all.
/// In   goalie: the name that the filter's id stands for.
std::string filter_words(const FactFilter& filter, const std::string& goalie = {});

/// Four short lines on a shot for who points at it: who and in which game, when, where he stood at the decision with the
/// verdict, how it ended.
std::string shot_words(const ShotFact& fact);

} // namespace ropeline
