#include "tally/shrinkage.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

namespace ropeline {

TEST_CASE(
    "eighteen batters: the spread of the highest likelihood, and what it makes of the best and the worst") {
    // Efron, Morris, J. Am. Stat. Assoc. 70 (1975) 311-319: hits of 45. Maximum by an independent calculation.
    std::vector<Share> batters;
    for (const int hits : {18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7})
        batters.push_back({hits, 45});
    const auto spread = spread_of(batters);
    REQUIRE(spread);
    CHECK(spread->beyond_chance);
    CHECK(std::abs(spread->alpha - 210.551783) < 2e-3);
    CHECK(std::abs(spread->beta - 582.688625) < 5e-3);
    CHECK(std::abs(shrunk({18, 45}, *spread).share - 0.272657) < 6e-7);
    CHECK(std::abs(shrunk({7, 45}, *spread).share - 0.259534) < 6e-7);
}

TEST_CASE("the seventy-first group of rats") {
    // Gelman et al., Bayesian Data Analysis, ch. 5: 4 of 14 with Beta(1.4, 8.6) is Beta(5.4, 18.6), mean .225 (printed .223,
    // from rounded sums), standard deviation .083.
    const Spread printed{1.4, 8.6, true, {}};
    const Shrunk made = shrunk({4, 14}, printed);
    CHECK(std::abs(made.share - 0.225) < 1e-12);
    // R: qbeta(c(.025, .975), 5.4, 18.6)
    CHECK(std::abs(made.interval.low - 0.0853961769785565) < 1e-8);
    CHECK(std::abs(made.interval.high - 0.4077898661980424) < 1e-8);
}

TEST_CASE("groups that differ no more than chance makes them have one share") {
    const std::vector<Share> even(20, Share{5, 50});
    const auto spread = spread_of(even);
    REQUIRE(spread);
    CHECK_FALSE(spread->beyond_chance);
    CHECK(std::abs(shrunk({0, 3}, *spread).share - 0.1) < 1e-6);
    CHECK_FALSE(spread_of({}));
    CHECK_FALSE(spread_of(std::vector<Share>{{1, 5}}));
    CHECK_FALSE(spread_of(std::vector<Share>{{0, 5}, {0, 9}}));
}

TEST_CASE("a group is drawn towards all, the more so the fewer shots it has") {
    const std::vector<Share> groups = {{2, 100}, {30, 100}, {9, 100}, {12, 100}, {1, 2}};
    const auto spread = spread_of(groups);
    REQUIRE(spread);
    for (const Share& group : groups) {
        const double raw = static_cast<double>(group.hits) / group.of, drawn = shrunk(group, *spread).share;
        CHECK((raw - drawn) * (drawn - spread->mean()) >= 0.0);
    }
    CHECK(std::abs(shrunk({30, 100}, *spread).share - 0.3) < 0.05);
    CHECK(std::abs(shrunk({1, 2}, *spread).share - 0.5) > 0.15);
}

} // namespace ropeline
