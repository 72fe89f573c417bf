#include "depth/least.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>

using namespace ropeline;

namespace {

template <class Function>
Least lowest_of_three(Function f, std::size_t best) {
    const std::array<Least, 3> looks{{{0.5, f(0.5)}, {0.75, f(0.75)}, {1.0, f(1.0)}}};
    return least_near(f, looks, best, 0.001);
}

} // namespace

TEST_CASE("the least value of a smooth curve is found to the width asked for") {
    const Least least = lowest_of_three([](double x) { return std::cos(4.0 * x); }, 1);
    CHECK(least.at == doctest::Approx(std::numbers::pi / 4.0).epsilon(0.002));
    CHECK(least.value == doctest::Approx(-1.0).epsilon(1e-5));
}

TEST_CASE("an end that the curve falls towards is taken as it is") {
    CHECK(lowest_of_three([](double x) { return 1.0 - x; }, 2).at == 1.0);
    CHECK(lowest_of_three([](double x) { return x; }, 0).at == 0.5);
}

TEST_CASE("the foot of a slope is found before a step that leads up to the end") {
    const auto slope = [](double x) { return 1.0 - 0.5 * x + (x > 0.9 ? 0.1 : 0.0); };
    const Least least = lowest_of_three(slope, 2);
    CHECK(least.at == doctest::Approx(0.9).epsilon(0.005));
    CHECK(least.value == doctest::Approx(0.55).epsilon(0.005));
}
