#include "tally/agreement.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

namespace ropeline {

TEST_CASE("Cohen's kappa with both of its standard errors") {
    // Worked by hand from Cohen (1960) and Fleiss, Cohen, Everitt (1969); R psych::cohen.kappa gives the same.
    const auto made = cohens_kappa(std::array{20, 5, 10, 15}, 2);
    REQUIRE(made);
    CHECK(made->pairs == 50);
    CHECK(std::abs(made->observed - 0.7) < 1e-12);
    CHECK(std::abs(made->by_chance - 0.5) < 1e-12);
    CHECK(std::abs(made->value - 0.4) < 1e-12);
    CHECK(std::abs(made->standard_error - 0.126996) < 5.1e-7);
    CHECK(std::abs(made->standard_error_at_none - 0.138564) < 5.1e-7);
    CHECK(std::abs(made->interval.low - 0.151092) < 5.1e-7);
    CHECK(std::abs(made->interval.high - 0.648908) < 5.1e-7);
}

TEST_CASE("the same share of agreement is another kappa where the words are unevenly used") {
    // Both agree in 60 of 100 (a textbook pair, from memory).
    CHECK(std::abs(cohens_kappa(std::array{45, 15, 25, 15}, 2)->value - 0.130435) < 5.1e-7);
    CHECK(std::abs(cohens_kappa(std::array{25, 35, 5, 35}, 2)->value - 0.259259) < 5.1e-7);
}

TEST_CASE("kappa of nothing is nothing; of full agreement 1, as surely as so many shots say") {
    CHECK_FALSE(cohens_kappa(std::array{0, 0, 0, 0}, 2));
    CHECK_FALSE(cohens_kappa(std::array{9, 0, 0, 0}, 2));
    const auto full = cohens_kappa(std::array{5, 0, 0, 0, 7, 0, 0, 0, 9}, 3);
    REQUIRE(full);
    CHECK(full->value == doctest::Approx(1.0).epsilon(1e-12));
    CHECK(full->standard_error < 1e-7);
    CHECK(full->interval.high == 1.0);
    // Wilson of 21 of 21 begins at 1 / (1 + z^2 / 21) = 0.845362; by chance 155 of 441 agree.
    const double by_chance = 155.0 / 441.0;
    CHECK(std::abs(full->interval.low - (0.845362 - by_chance) / (1.0 - by_chance)) < 2e-6);
    const auto never = cohens_kappa(std::array{0, 2, 2, 0}, 2);
    REQUIRE(never);
    CHECK(never->interval.high > never->value + 0.5);
}

TEST_CASE("limits of agreement equal those Bland and Altman printed for two peak flow meters") {
    // Bland, Altman, Lancet 327 (1986) 307-310, 17 subjects, l/min: mean -2.1, sd 38.8; standard error of the mean 9.4, of a
    // limit 16.3; 95 % of the mean -22.0 to 17.8.
    const std::array<std::pair<double, double>, 17> pairs = {{{494, 512},
                                                              {395, 430},
                                                              {516, 520},
                                                              {434, 428},
                                                              {476, 500},
                                                              {557, 600},
                                                              {413, 364},
                                                              {442, 380},
                                                              {650, 658},
                                                              {433, 445},
                                                              {417, 432},
                                                              {656, 626},
                                                              {267, 260},
                                                              {478, 477},
                                                              {178, 259},
                                                              {423, 350},
                                                              {427, 451}}};
    const auto made = bland_altman(pairs);
    REQUIRE(made);
    CHECK(std::abs(made->mean - -2.117647) < 5.1e-7);
    CHECK(std::abs(made->standard_deviation - 38.765130) < 5.1e-7);
    CHECK(std::abs(made->limits.low - -78.097302) < 1e-4);
    CHECK(std::abs(made->limits.high - 73.862007) < 1e-4);
    CHECK(std::abs(made->mean_interval.low - -22.048838) < 1e-5);
    CHECK(std::abs(made->mean_interval.high - 17.813544) < 1e-5);
    // The half width of a limit is t(16) times 16.284612.
    CHECK(std::abs(0.5 * (made->low_interval.high - made->low_interval.low) / 16.284612 - 2.119905) < 1e-5);
    CHECK_FALSE(bland_altman(std::span{pairs}.first(2)));
}

} // namespace ropeline
