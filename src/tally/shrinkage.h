// Small groups told apart no more than chance allows: each is drawn towards all, the more so the fewer shots it has.
#pragma once

#include "tally/difference.h"

#include <optional>
#include <span>
#include <vector>

namespace ropeline {

/// One spread that the counts leave possible, and how likely it is.
struct PossibleSpread {
    double alpha = 0.0, beta = 0.0, weight = 0.0;
};

/// How the groups' own shares are spread: Beta(alpha, beta).
struct Spread {
    double alpha = 0.0, beta = 0.0;
    bool beyond_chance =
        true; ///< false: the groups differ no more than chance makes them; all have one share

    std::vector<PossibleSpread> possible{};

    double mean() const { return alpha / (alpha + beta); }
};

/// The spread of the highest likelihood of beta-binomial counts.
/// Out     nothing with less than two groups, or none or all hits.
/// Source  Skellam, J. R. Stat. Soc. B 10 (1948) 257-261; its use for averages: Efron, Morris, J. Am. Stat. Assoc. 70 (1975)
///         311-319; Gelman et al., Bayesian Data Analysis, ch. 5.
std::optional<Spread> spread_of(std::span<const Share> groups);

struct Shrunk {
    double share = 0.0;
    Interval interval; ///< the middle 95 % of what the group's share may be
};

/// The group's share given its own count and the spread of all: Beta(alpha + hits, beta + misses). The interval counts in that
/// the spread itself is not known: over all possible ones, their standard deviation equally likely a priori.
/// Source  Kass, Steffey, J. Am. Stat. Assoc. 84 (1989) 717-726; the prior of Gelman et al., ch. 5.
Shrunk shrunk(Share group, const Spread& spread);

} // namespace ropeline
