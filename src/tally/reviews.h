// Two reviews of the same shots, by two reviewers or by one a month later, laid side by side.
#pragma once

#include "season/records.h"
#include "tally/agreement.h"

#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace ropeline {

/// Places of the same shot in either list.
struct SameShot {
    std::size_t first = 0, second = 0;
};

/// Shots of the same id; else of the same game (its id, or its date and teams) and of no other period, within 2 s of film, the
/// nearest first, each taken once.
std::vector<SameShot> same_shots(std::span<const ShotFact> first, std::span<const ShotFact> second);

struct WordAgreement {
    std::string label; ///< "outcome"
    Kappa kappa;
};

struct ReviewAgreement {
    int pairs = 0, only_first = 0, only_second = 0;
    std::vector<WordAgreement> words; ///< what came, situation, outcome, sight, verdict; where both said it
    std::vector<std::pair<double, double>> depths_m; ///< at the decision, first and second
    std::vector<Id> depth_shots;                     ///< the first's, of the same pairs
    std::optional<LimitsOfAgreement> depth_m;
};

ReviewAgreement agreement_of(std::span<const ShotFact> first, std::span<const ShotFact> second);

} // namespace ropeline
