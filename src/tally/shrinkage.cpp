#include "tally/shrinkage.h"

#include "tally/special.h"

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

constexpr double even_strength = 1e7; ///< alpha + beta from which groups are as good as equal

/// Slopes of the log likelihood at mean m and strength s = alpha + beta.
struct Slopes {
    double mean = 0.0, mean_curvature = 0.0, strength = 0.0;
};

Slopes slopes_at(std::span<const Share> groups, double mean, double strength) {
    const double a = mean * strength, b = (1.0 - mean) * strength;
    Slopes slopes;
    for (const Share& group : groups) {
        const double x = group.hits, rest = group.of - group.hits;
        const double up = digamma(a + x) - digamma(a), down = digamma(b + rest) - digamma(b);
        slopes.mean += strength * (up - down);
        slopes.mean_curvature +=
            strength * strength * (trigamma(a + x) - trigamma(a) + trigamma(b + rest) - trigamma(b));
        slopes.strength += mean * up + (1.0 - mean) * down - digamma(strength + group.of) + digamma(strength);
    }
    return slopes;
}

/// For a given strength the likelihood is concave in the mean: Newton, kept inside 0..1.
double best_mean(std::span<const Share> groups, double start, double strength) {
    double mean = start, low = 0.0, high = 1.0;
    for (int turn = 0; turn < 100; ++turn) {
        const Slopes slopes = slopes_at(groups, mean, strength);
        (slopes.mean > 0.0 ? low : high) = mean;
        double next =
            slopes.mean_curvature < 0.0 ? mean - slopes.mean / slopes.mean_curvature : 0.5 * (low + high);
        if (next <= low || next >= high) next = 0.5 * (low + high);
        const bool there = std::abs(next - mean) < 1e-15;
        mean = next;
        if (there) break;
    }
    return mean;
}

} // namespace

std::optional<Spread> spread_of(std::span<const Share> groups) {
    double hits = 0.0, of = 0.0;
    int counted = 0;
    for (const Share& group : groups) {
        hits += group.hits;
        of += group.of;
        counted += group.of > 0 ? 1 : 0;
    }
    if (counted < 2 || hits <= 0.0 || hits >= of) return std::nullopt;
    double mean = hits / of;
    const auto slope = [&](double log_strength) {
        const double strength = std::exp(log_strength);
        mean = best_mean(groups, mean, strength);
        return slopes_at(groups, mean, strength).strength;
    };
    double low = std::log(1e-3), high = std::log(even_strength);
    // Above some strength digits are lost: what still rises at a ten thousand is taken to rise for ever.
    if (slope(std::log(1e4)) >= 0.0)
        return Spread{hits / of * even_strength, (1.0 - hits / of) * even_strength, false};
    high = std::log(1e4);
    for (int turn = 0; turn < 100 && high - low > 1e-13; ++turn)
        (slope(0.5 * (low + high)) > 0.0 ? low : high) = 0.5 * (low + high);
    const double strength = std::exp(0.5 * (low + high));
    mean = best_mean(groups, mean, strength);
    return Spread{mean * strength, (1.0 - mean) * strength, true};
}

Shrunk shrunk(Share group, const Spread& spread) {
    const double alpha = spread.alpha + group.hits, beta = spread.beta + group.of - group.hits;
    return {alpha / (alpha + beta), {beta_quantile(alpha, beta, 0.025), beta_quantile(alpha, beta, 0.975)}};
}

} // namespace ropeline
