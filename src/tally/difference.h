// How sure the difference of two shares is: plain, and within layers that differ in how hard they are.
#pragma once

#include "tally/proportion.h"

#include <optional>
#include <span>

namespace ropeline {

/// Goals of attempts, or anything else that happened in some of so many.
struct Share {
    int hits = 0, of = 0;
};
inline void add_to(Share& share, bool hit) {
    ++share.of;
    share.hits += hit ? 1 : 0;
}

struct Difference {
    double value = 0.0; ///< first less second
    Interval interval;  ///< 95 %
};

/// First share less second, with Newcombe's hybrid score interval.
/// In      both with of >= 1.
/// Source  Newcombe, Stat. Med. 17 (1998) 873-890, method 10 (square-and-add of Wilson's intervals).
Difference newcombe_difference(Share first, Share second);

/// The two shares of one layer (a situation, say), to be compared with each other only.
struct Layer {
    Share first, second;
};

/// Mantel-Haenszel's difference over layers, weighted by n1 n2 / (n1 + n2), with Klingenberg's score interval. Where no layer
/// has both what happened and what did not, that interval has no width, however few they are: then the layers' own intervals
/// (Newcombe's), squared and added with the same weights.
/// Out     nothing when no layer has both.
/// Source  Mantel-Haenszel weights after Greenland, Robins, Biometrics 41 (1985) 55-68; variance of Sato,
///         Biometrics 45 (1989) 1323-1324; interval of Klingenberg, Stat. Med. 33 (2014) 2968-2983; adding intervals: Zou, Donner,
///         Stat. Med. 27 (2008) 1693-1702.
std::optional<Difference> mantel_haenszel_difference(std::span<const Layer> layers);
/// Sato's estimate of its variance, at the difference itself.
std::optional<double> mantel_haenszel_variance(std::span<const Layer> layers);

struct ExactTest {
    double less = 1.0, greater = 1.0, two_sided = 1.0;
};

/// Fisher's exact test of two shares: how often chance alone makes the first this small, this large, or this
/// unlikely (the sum of all tables no more likely than this one).
/// Source  Fisher, Statistical Methods for Research Workers, sec. 21.02; two-sided as R's fisher.test does it.
ExactTest fisher_exact(Share first, Share second);

} // namespace ropeline
