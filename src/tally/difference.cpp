#include "tally/difference.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

namespace ropeline {
namespace {

double value_of(Share share) {
    return static_cast<double>(share.hits) / share.of;
}

/// The sums that weights, variance and interval are made of.
struct LayerSums {
    double weight = 0.0, difference = 0.0, p = 0.0, q = 0.0;
};

LayerSums sums_of(std::span<const Layer> layers) {
    LayerSums sums;
    for (const Layer& layer : layers) {
        if (layer.first.of == 0 || layer.second.of == 0) continue;
        const double n1 = layer.first.of, n2 = layer.second.of, n = n1 + n2;
        const double x1 = layer.first.hits, x2 = layer.second.hits;
        sums.weight += n1 * n2 / n;
        sums.difference += (x1 * n2 - x2 * n1) / n;
        sums.p += (n1 * n1 * x2 - n2 * n2 * x1 + 0.5 * n1 * n2 * (n2 - n1)) / (n * n);
        sums.q += (x1 * (n2 - x2) + x2 * (n1 - x1)) / (2.0 * n);
    }
    return sums;
}

/// For layers in which everything happened or nothing did: their own intervals, squared and added.
Difference added_layer_by_layer(std::span<const Layer> layers, double weight) {
    Difference made;
    double below = 0.0, above = 0.0;
    for (const Layer& layer : layers) {
        if (layer.first.of == 0 || layer.second.of == 0) continue;
        const double n1 = layer.first.of, n2 = layer.second.of, part = n1 * n2 / (n1 + n2) / weight;
        const Difference own = newcombe_difference(layer.first, layer.second);
        made.value += part * own.value;
        below = std::hypot(below, part * (own.value - own.interval.low));
        above = std::hypot(above, part * (own.interval.high - own.value));
    }
    made.interval = {std::max(-1.0, made.value - below), std::min(1.0, made.value + above)};
    return made;
}

} // namespace

Difference newcombe_difference(Share first, Share second) {
    const double p1 = value_of(first), p2 = value_of(second);
    const Interval one = wilson(first.hits, first.of), two = wilson(second.hits, second.of);
    return {p1 - p2,
            {p1 - p2 - std::hypot(p1 - one.low, two.high - p2),
             p1 - p2 + std::hypot(one.high - p1, p2 - two.low)}};
}

std::optional<Difference> mantel_haenszel_difference(std::span<const Layer> layers) {
    const LayerSums sums = sums_of(layers);
    if (sums.weight <= 0.0) return std::nullopt;
    if (sums.q <= 0.0) return added_layer_by_layer(layers, sums.weight);
    const double value = sums.difference / sums.weight, z2 = normal_975 * normal_975;
    const double squared = sums.weight * sums.weight;
    // (value - d)^2 = z^2 (d P + Q) / W^2, solved for d.
    const double middle = value + 0.5 * z2 * sums.p / squared;
    const double half = std::sqrt(std::max(0.0, middle * middle - value * value + z2 * sums.q / squared));
    return Difference{value, {std::max(-1.0, middle - half), std::min(1.0, middle + half)}};
}

std::optional<double> mantel_haenszel_variance(std::span<const Layer> layers) {
    const LayerSums sums = sums_of(layers);
    if (sums.weight <= 0.0) return std::nullopt;
    return (sums.difference / sums.weight * sums.p + sums.q) / (sums.weight * sums.weight);
}

ExactTest fisher_exact(Share first, Share second) {
    const int hits = first.hits + second.hits;
    const int low = std::max(0, hits - second.of), high = std::min(first.of, hits);
    assert(first.hits >= low && first.hits <= high);
    // Chances of each table against the likeliest one, from there outwards, so that none overflows.
    std::vector<double> chance(static_cast<std::size_t>(high - low + 1));
    const double total = static_cast<double>(first.of) + second.of;
    const int likeliest =
        std::clamp(static_cast<int>((first.of + 1.0) * (hits + 1.0) / (total + 2.0)), low, high);
    const auto ratio_up = [&](int k) { // chance of k + 1 against chance of k
        return (static_cast<double>(first.of - k) * (hits - k)) /
               ((k + 1.0) * (static_cast<double>(second.of) - hits + k + 1.0));
    };
    const auto at = [&](int k) -> double& { return chance[static_cast<std::size_t>(k - low)]; };
    at(likeliest) = 1.0;
    for (int k = likeliest; k < high; ++k)
        at(k + 1) = at(k) * ratio_up(k);
    for (int k = likeliest; k > low; --k)
        at(k - 1) = at(k) / ratio_up(k - 1);
    double sum = 0.0;
    for (const double one : chance)
        sum += one;
    ExactTest test{0.0, 0.0, 0.0};
    const double here = at(first.hits) * (1.0 + 1e-7); // equal but for rounding is equal
    for (int k = low; k <= high; ++k) {
        if (k <= first.hits) test.less += at(k) / sum;
        if (k >= first.hits) test.greater += at(k) / sum;
        if (at(k) <= here) test.two_sided += at(k) / sum;
    }
    return {std::min(1.0, test.less), std::min(1.0, test.greater), std::min(1.0, test.two_sided)};
}

} // namespace ropeline
