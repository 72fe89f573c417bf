// How far two reviewers, or one a month later, say the same of the same shots.
#pragma once

#include "tally/proportion.h"

#include <optional>
#include <span>
#include <utility>
#include <vector>

namespace ropeline {

/// Of words: agreement beyond what two who guess with the same habits would reach.
struct Kappa {
    int pairs = 0;
    double observed = 0.0, by_chance = 0.0; ///< shares that agree
    double value = 0.0, standard_error = 0.0;
    double standard_error_at_none = 0.0; ///< if they agreed no more than by chance
    Interval interval;                   ///< 95 %, within -1..1
};

/// In      table: how often the first said i and the second j, row after row.
/// Out     nothing without pairs, or where both always say one and the same word.
/// Source  Cohen, Educ. Psychol. Meas. 20 (1960) 37-46; standard errors of Fleiss, Cohen, Everitt, Psychol. Bull. 72 (1969)
///         323-327. Where all agree or none, that error says nothing: then the interval is Wilson's of the share that agrees,
///         with what chance makes taken as it was counted (own choice).
std::optional<Kappa> cohens_kappa(std::span<const int> table, int words);

/// Of lengths: what the second says beside the first.
struct LimitsOfAgreement {
    int pairs = 0;
    double mean = 0.0, standard_deviation = 0.0;         ///< of first less second
    Interval limits;                                     ///< 95 % of the differences lie within
    Interval mean_interval, low_interval, high_interval; ///< 95 % of the mean and of the two limits
};

/// Out     nothing with less than three pairs.
/// Source  Bland, Altman, Lancet 327 (1986) 307-310: limits mean -+ 1.96 sd, standard error of a limit sqrt(3 sd^2 / n).
std::optional<LimitsOfAgreement> bland_altman(std::span<const std::pair<double, double>> pairs);

} // namespace ropeline
