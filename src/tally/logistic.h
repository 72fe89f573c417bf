// Logistic regression: the chance of a goal from several things at once. Firth's penalty keeps it finite where no
// goal was ever allowed from somewhere, which is what small seasons look like.
#pragma once

#include "tally/proportion.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace ropeline {

/// Rows of numbers with a yes or no each. The first column is the constant 1.
struct LogisticData {
    int columns = 0;
    std::vector<double> x; ///< row after row
    std::vector<std::uint8_t> y;
    std::vector<double> offset{}; ///< added to each row's log odds; empty: none

    int rows() const { return static_cast<int>(y.size()); }
    /// In  as many numbers as there are columns.
    void add(const std::vector<double>& row, bool yes);
};

enum class Penalty { none, firth };

struct LogisticFit {
    std::vector<double> beta;       ///< log odds a unit of each column
    std::vector<double> covariance; ///< inverse of Fisher's information at beta, row after row
    double log_likelihood = 0.0;    ///< with the penalty, where there is one
    bool converged =
        false; ///< false: the likelihood has no top (no goals on one side), or the columns depend

    double standard_error(int column) const;
};

/// Holds one coefficient at a value while the others are fitted.
struct HeldCoefficient {
    int column = 0;
    double value = 0.0;
};

/// The coefficients of the highest likelihood, or of the highest likelihood with Jeffreys' penalty.
/// Source  Firth, Biometrika 80 (1993) 27-38; Heinze, Schemper, Stat. Med. 21 (2002) 2409-2419. Fisher scoring with
///         halved steps, to 1e-11.
LogisticFit fit_logistic(const LogisticData& data, Penalty penalty, const std::vector<double>& start = {},
                         std::optional<HeldCoefficient> held = std::nullopt);

/// 95 % interval of one coefficient from the profile of the penalised likelihood: the values at which the best fit
/// of all others is not worse than half of the 95 % point of chi-square.
/// Source  Heinze, Schemper, Stat. Med. 21 (2002) 2409-2419, sec. 3.
Interval profile_interval(const LogisticData& data, const LogisticFit& fit, Penalty penalty, int column);

/// The same fit with the constant put so that as many goals are expected as there were, which Firth's penalty
/// misses where goals are rare.
/// Source  Puhr, Heinze, Nold, Lusa, Geroldinger, Stat. Med. 36 (2017) 2302-2317 (FLIC).
LogisticFit with_refitted_constant(const LogisticData& data, LogisticFit fit);

/// The chance at these numbers, and Wald's 95 % interval of it on the scale of log odds.
struct Chance {
    double value = 0.0;
    Interval interval;
};
Chance chance_at(const LogisticFit& fit, const std::vector<double>& row);

} // namespace ropeline
