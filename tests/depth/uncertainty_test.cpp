#include "depth/uncertainty.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>
#include <stdexcept>
#include <vector>

using namespace ropeline;

TEST_CASE("an error along the puck line is an error of depth, one across is not") {
    std::array<double, 16> joint{};
    joint[0] = 0.04; // goalie, across
    joint[5] = 0.01; // goalie, along
    CHECK(depth_sigma_m(stance_from_mark({0.0, 1.5}), {0.0, 10.0}, joint) == doctest::Approx(0.1));
    CHECK(depth_sigma_m(stance_from_mark({0.0, 1.5}), {0.0, 0.0}, joint) ==
          doctest::Approx(0.1)); // puck on the middle
    CHECK_THROWS_AS(depth_sigma_m(stance_from_skates({0, 1}, {1, 1}), {0.0, 10.0}, joint),
                    std::invalid_argument);
}

TEST_CASE("two skates with independent errors halve the variance") {
    std::array<double, 36> joint{};
    for (int i = 0; i < 4; ++i)
        joint[static_cast<std::size_t>(7 * i)] = 0.01;
    CHECK(depth_sigma_m(stance_from_skates({-0.3, 1.5}, {0.3, 1.5}), {0.0, 10.0}, joint) ==
          doctest::Approx(0.1 / std::sqrt(2.0)));
}

TEST_CASE("the first-order sigma agrees with drawing the marks 50,000 times") {
    std::mt19937 random(42);
    std::normal_distribution<double> normal;
    // Joint covariance L L^T with a shared part, as one rink fit gives.
    const double lower[4][4]{
        {0.05, 0, 0, 0}, {0.02, 0.06, 0, 0}, {0.03, 0.01, 0.08, 0}, {0.00, 0.04, 0.02, 0.07}};
    std::array<double, 16> joint{};
    for (std::size_t i = 0; i < 4; ++i)
        for (std::size_t j = 0; j < 4; ++j)
            for (std::size_t k = 0; k < 4; ++k)
                joint[4 * i + j] += lower[i][k] * lower[j][k];
    const IcePoint goalie{0.7, 1.2}, puck{5.0, 6.0};
    double sum = 0.0, squares = 0.0;
    constexpr int draws = 50'000;
    for (int draw = 0; draw < draws; ++draw) {
        double unit[4], off[4]{};
        for (double& number : unit)
            number = normal(random);
        for (int i = 0; i < 4; ++i)
            for (int k = 0; k < 4; ++k)
                off[i] += lower[i][k] * unit[k];
        const double depth =
            depth_m({goalie.x_m + off[0], goalie.y_m + off[1]}, {puck.x_m + off[2], puck.y_m + off[3]});
        sum += depth;
        squares += depth * depth;
    }
    const double drawn = std::sqrt(squares / draws - (sum / draws) * (sum / draws));
    CHECK(depth_sigma_m(stance_from_mark(goalie), puck, joint) == doctest::Approx(drawn).epsilon(0.02));
}
