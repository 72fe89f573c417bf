// How sure a share is when it was counted.
#pragma once

namespace ropeline {

struct Interval {
    double low = 0.0, high = 0.0;
};

/// 97.5 % point of the normal distribution.
constexpr double normal_975 = 1.959963984540054;

/// Wilson's interval for a share, 95 % at the usual z, without continuity correction.
/// In      0 <= successes <= trials, trials >= 1.
/// Out     both ends within 0..1.
/// Source  Wilson, J. Am. Stat. Assoc. 22 (1927) 209-212; Newcombe, Stat. Med. 17 (1998) 857-872, method 3.
Interval wilson(int successes, int trials, double z = normal_975);

} // namespace ropeline
