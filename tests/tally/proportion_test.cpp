#include "tally/proportion.h"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>

namespace ropeline {

TEST_CASE("Wilson's interval equals Newcombe's published examples") {
    // Newcombe, Stat. Med. 17 (1998) 857-872, table I, method 3 (four digits in print: .2553 .3662, .0624
    // .1605, 0 .1611, .0061 .1718); the six digits are those of R prop.test without correction.
    struct Example {
        int successes, trials;
        double low, high;
    };
    for (const Example& example :
         {Example{81, 263, 0.255289, 0.366210}, Example{15, 148, 0.062386, 0.160487},
          Example{0, 20, 0.0, 0.161125}, Example{1, 29, 0.006113, 0.171755},
          Example{27, 300, 0.062590, 0.127777}, Example{90, 1000, 0.073796, 0.109342},
          Example{135, 1500, 0.076545, 0.105549}}) {
        CAPTURE(example.successes);
        const Interval interval = wilson(example.successes, example.trials);
        CHECK(std::abs(interval.low - example.low) < 5.1e-7);
        CHECK(std::abs(interval.high - example.high) < 5.1e-7);
    }
}

TEST_CASE("Wilson's interval equals R to ten digits") {
    // R: prop.test(81, 263, correct = FALSE)$conf.int gives 0.2552885199 0.3662095770
    const Interval interval = wilson(81, 263);
    CHECK(std::abs(interval.low - 0.2552885199) < 5e-11);
    CHECK(std::abs(interval.high - 0.3662095770) < 5e-11);
}

TEST_CASE("Wilson's interval stays inside 0 and 1, holds the share and mirrors") {
    for (int trials = 1; trials <= 60; ++trials)
        for (int successes = 0; successes <= trials; ++successes) {
            const Interval interval = wilson(successes, trials);
            const double share = static_cast<double>(successes) / trials;
            CHECK(interval.low >= 0.0);
            CHECK(interval.high <= 1.0);
            CHECK(interval.low <= share);
            CHECK(share <= interval.high);
            const Interval mirror = wilson(trials - successes, trials);
            CHECK(std::abs(interval.low - (1.0 - mirror.high)) < 1e-14);
        }
    CHECK(wilson(0, 20).low == 0.0);
    CHECK(wilson(20, 20).high == 1.0);
}

TEST_CASE("the normal point has its sixteen digits") {
    // The defining equation: half the complementary error function at z / sqrt 2 is 0.025.
    CHECK(std::abs(0.5 * std::erfc(normal_975 / std::sqrt(2.0)) - 0.025) < 1e-16);
}

} // namespace ropeline
