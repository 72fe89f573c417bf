#include "tally/shrinkage.h"

#include "tally/special.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

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

double log_likelihood(std::span<const Share> groups, double mean, double strength) {
    const double a = mean * strength, b = (1.0 - mean) * strength;
    double sum = 0.0;
    for (const Share& group : groups)
        sum += log_gamma(a + group.hits) - log_gamma(a) + log_gamma(b + group.of - group.hits) -
               log_gamma(b) - log_gamma(strength + group.of) + log_gamma(strength);
    return sum;
}

/// Strengths from 3 to 30 000 in even steps of their logarithm, and at each the mean with three nodes of its own spread.
std::vector<PossibleSpread> possible_spreads(std::span<const Share> groups, double mean) {
    constexpr int steps = 20;
    std::vector<PossibleSpread> made;
    std::vector<double> heights;
    for (int i = 0; i <= steps; ++i) {
        const double strength = 3.0 * std::pow(1e4, static_cast<double>(i) / steps);
        mean = best_mean(groups, mean, strength);
        const double deviation = 1.0 / std::sqrt(-slopes_at(groups, mean, strength).mean_curvature);
        // Even over the standard deviation, which goes with 1 / sqrt(strength).
        const double height =
            log_likelihood(groups, mean, strength) - 0.5 * std::log(strength) + std::log(deviation);
        for (const auto& [node, weight] : {std::pair{-1.0, 1.0 / 6.0}, {0.0, 2.0 / 3.0}, {1.0, 1.0 / 6.0}}) {
            const double at =
                std::clamp(mean + node * std::sqrt(3.0) * deviation, 0.1 * mean, 1.0 - 0.1 * (1.0 - mean));
            made.push_back({at * strength, (1.0 - at) * strength, weight});
            heights.push_back(height);
        }
    }
    const double top = *std::ranges::max_element(heights);
    double sum = 0.0;
    for (std::size_t i = 0; i < made.size(); ++i)
        sum += made[i].weight *= std::exp(heights[i] - top);
    std::erase_if(made, [&](PossibleSpread& one) { return (one.weight /= sum) < 1e-4; });
    return made;
}

/// The share below which the group's own lies with this chance, over all possible spreads.
double mixed_quantile(Share group, const Spread& spread, double chance) {
    const auto excess = [&](double share) {
        double below = -chance;
        for (const PossibleSpread& one : spread.possible)
            below +=
                one.weight * beta_chance(one.alpha + group.hits, one.beta + group.of - group.hits, share);
        return below;
    };
    // False position; the height at an end that stays is halved (Illinois).
    double low = 0.0, high = 1.0, under = -chance, over = 1.0 - chance, middle = 0.5;
    int side = 0;
    for (int turn = 0; turn < 60 && high - low > 1e-9; ++turn) {
        middle = turn < 3 ? 0.5 * (low + high) : high - over * (high - low) / (over - under);
        const double here = excess(middle);
        if (std::abs(here) < 1e-9) break;
        if (here < 0.0) {
            low = middle;
            under = here;
            if (side < 0) over *= 0.5;
            side = -1;
        } else {
            high = middle;
            over = here;
            if (side > 0) under *= 0.5;
            side = 1;
        }
    }
    return middle;
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
    const auto possible = possible_spreads(groups, mean);
    double low = std::log(1e-3), high = std::log(1e4);
    // What still rises at a strength of ten thousand is taken to rise for ever: digits are lost beyond.
    if (slope(high) >= 0.0)
        return Spread{hits / of * even_strength, (1.0 - hits / of) * even_strength, false, possible};
    for (int turn = 0; turn < 100 && high - low > 1e-13; ++turn)
        (slope(0.5 * (low + high)) > 0.0 ? low : high) = 0.5 * (low + high);
    const double strength = std::exp(0.5 * (low + high));
    mean = best_mean(groups, mean, strength);
    return Spread{mean * strength, (1.0 - mean) * strength, true, possible};
}

Shrunk shrunk(Share group, const Spread& spread) {
    const double alpha = spread.alpha + group.hits, beta = spread.beta + group.of - group.hits;
    Shrunk made{alpha / (alpha + beta), {}};
    const auto quantile = [&](double chance) {
        return spread.possible.empty() ? beta_quantile(alpha, beta, chance)
                                       : mixed_quantile(group, spread, chance);
    };
    made.interval = {std::min(made.share, quantile(0.025)), std::max(made.share, quantile(0.975))};
    return made;
}

} // namespace ropeline
