#include "tally/agreement.h"

#include "tally/special.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

std::optional<Kappa> cohens_kappa(std::span<const int> table, int words) {
    const auto n = static_cast<std::size_t>(words);
    std::vector<double> row(n), column(n);
    Kappa kappa;
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j) {
            kappa.pairs += table[i * n + j];
            row[i] += table[i * n + j];
            column[j] += table[i * n + j];
        }
    if (kappa.pairs == 0) return std::nullopt;
    const double total = kappa.pairs;
    double both = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        row[i] /= total;
        column[i] /= total;
        kappa.observed += table[i * n + i] / total;
        kappa.by_chance += row[i] * column[i];
        both += row[i] * column[i] * (row[i] + column[i]);
    }
    const double rest = 1.0 - kappa.by_chance;
    if (rest <= 0.0) return std::nullopt;
    kappa.value = (kappa.observed - kappa.by_chance) / rest;
    double same = 0.0, other = 0.0;
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j) {
            const double share = table[i * n + j] / total;
            const double habits = i == j ? row[i] + column[i] : column[i] + row[j];
            const double term = i == j ? 1.0 - habits * (1.0 - kappa.value) : habits * (1.0 - kappa.value);
            (i == j ? same : other) += share * term * term;
        }
    const double last = kappa.value - kappa.by_chance * (1.0 - kappa.value);
    kappa.standard_error = std::sqrt(std::max(0.0, (same + other - last * last) / total)) / rest;
    kappa.standard_error_at_none =
        std::sqrt(std::max(0.0, (kappa.by_chance + kappa.by_chance * kappa.by_chance - both) / total)) / rest;
    const double half = normal_975 * kappa.standard_error;
    kappa.interval = {kappa.value - half, kappa.value + half};
    int agreed = 0;
    for (std::size_t i = 0; i < n; ++i)
        agreed += table[i * n + i];
    if (agreed == 0 || agreed == kappa.pairs) {
        const Interval shares = wilson(agreed, kappa.pairs);
        kappa.interval = {(shares.low - kappa.by_chance) / rest, (shares.high - kappa.by_chance) / rest};
    }
    kappa.interval = {std::max(-1.0, kappa.interval.low), std::min(1.0, kappa.interval.high)};
    return kappa;
}

std::optional<LimitsOfAgreement> bland_altman(std::span<const std::pair<double, double>> pairs) {
    if (pairs.size() < 3) return std::nullopt;
    const auto n = static_cast<double>(pairs.size());
    LimitsOfAgreement made;
    made.pairs = static_cast<int>(pairs.size());
    for (const auto& [first, second] : pairs)
        made.mean += (first - second) / n;
    double squares = 0.0;
    for (const auto& [first, second] : pairs)
        squares += (first - second - made.mean) * (first - second - made.mean);
    made.standard_deviation = std::sqrt(squares / (n - 1.0));
    const double t = student_t_quantile(n - 1.0, 0.975), reach = 1.96 * made.standard_deviation;
    const auto around = [](double middle, double half) { return Interval{middle - half, middle + half}; };
    made.limits = around(made.mean, reach);
    made.mean_interval = around(made.mean, t * made.standard_deviation / std::sqrt(n));
    const double of_a_limit = t * made.standard_deviation * std::sqrt(3.0 / n);
    made.low_interval = around(made.limits.low, of_a_limit);
    made.high_interval = around(made.limits.high, of_a_limit);
    return made;
}

} // namespace ropeline
