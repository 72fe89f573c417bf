#include "tally/logistic.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <initializer_list>
#include <numeric>

namespace ropeline {
namespace {

LogisticData with_one(const std::vector<double>& x, const std::vector<int>& y) {
    LogisticData data{2, {}, {}, {}};
    for (std::size_t i = 0; i < x.size(); ++i)
        data.add({1.0, x[i]}, y[i] != 0);
    return data;
}

/// Goals and others of the exposed, then of the rest.
LogisticData table(int goals, int others, int rest_goals, int rest_others) {
    LogisticData data{2, {}, {}, {}};
    const auto add = [&](int count, double exposed, bool goal) {
        for (int i = 0; i < count; ++i)
            data.add({1.0, exposed}, goal);
    };
    add(goals, 1.0, true);
    add(others, 1.0, false);
    add(rest_goals, 0.0, true);
    add(rest_others, 0.0, false);
    return data;
}

LogisticData vasoconstriction() {
    const std::vector<double> volume = {3.7, 3.5, 1.25, .75, .8,  .7,   .6,  1.1, .9,  .9,   .8,  .55, .6,
                                        1.4, .75, 2.3,  3.2, .85, 1.7,  1.8, .4,  .95, 1.35, 1.5, 1.6, .6,
                                        1.8, .95, 1.9,  1.6, 2.7, 2.35, 1.1, 1.1, 1.2, .8,   .95, .75, 1.3};
    const std::vector<double> rate = {.825, 1.09, 2.5,  1.5,  3.2,  3.5,  .75, 1.7,   .75,  .45,
                                      .57,  2.75, 3,    2.33, 3.75, 1.64, 1.6, 1.415, 1.06, 1.8,
                                      2,    1.36, 1.35, 1.36, 1.78, 1.5,  1.5, 1.9,   .95,  .4,
                                      .75,  .03,  1.83, 2.2,  2,    3.33, 1.9, 1.9,   1.625};
    const std::vector<int> y = {1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 0, 1,
                                0, 0, 0, 0, 1, 0, 1, 0, 1, 0, 1, 0, 0, 1, 1, 1, 0, 0, 1};
    LogisticData data{3, {}, {}, {}};
    for (std::size_t i = 0; i < y.size(); ++i)
        data.add({1.0, std::log(volume[i]), std::log(rate[i])}, y[i] != 0);
    return data;
}

void check_near(const std::vector<double>& made, std::initializer_list<double> wanted,
                double within = 5.1e-7) {
    REQUIRE(made.size() == wanted.size());
    std::size_t i = 0;
    for (const double value : wanted) {
        CAPTURE(value);
        CHECK(std::abs(made[i++] - value) < within);
    }
}

} // namespace

TEST_CASE("logistic regression equals Finney's vasoconstriction data and R") {
    // Finney, Biometrika 34 (1947) 320-334; published -2.875, 5.179, 4.562, deviance 29.227; six digits by R glm.
    const LogisticFit fit = fit_logistic(vasoconstriction(), Penalty::none);
    CHECK(fit.converged);
    check_near(fit.beta, {-2.875422, 5.179324, 4.561675});
    check_near({fit.standard_error(0), fit.standard_error(1), fit.standard_error(2)},
               {1.320793, 1.864850, 1.837991});
    CHECK(std::abs(-2.0 * fit.log_likelihood - 29.227375) < 5.1e-7);
}

TEST_CASE("logistic regression equals other published examples") {
    // Shuttle seals: Dalal, Fowlkes, Hoadley, J. Am. Stat. Assoc. 84 (1989) 945-957 (from memory).
    const LogisticFit seals = fit_logistic(
        with_one({66, 70, 69, 68, 67, 72, 73, 70, 57, 63, 70, 78, 67, 53, 67, 75, 70, 81, 76, 79, 75, 76, 58},
                 {0, 1, 0, 0, 0, 0, 0, 0, 1, 1, 1, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 1}),
        Penalty::none);
    check_near(seals.beta, {15.042902, -0.232163});
    check_near({seals.standard_error(0), seals.standard_error(1)}, {7.378636, 0.108237});
    CHECK(std::abs(chance_at(seals, {1.0, 31.0}).value - 0.999609) < 5.1e-7);
    // Heart disease by age from 55: Hosmer, Lemeshow, Applied Logistic Regression, ch. 3 (from memory).
    const LogisticFit heart = fit_logistic(table(21, 6, 22, 51), Penalty::none);
    check_near(heart.beta, {-0.840783, 2.093546});
    CHECK(std::abs(heart.standard_error(1) - 0.528534) < 5.1e-7);
}

TEST_CASE("Firth's fit of two shares is a half added to every cell") {
    // Firth, Biometrika 80 (1993), sec. 3.3: Jeffreys' prior on a saturated table.
    for (const auto& [a, b, c, d] : {std::array{21, 6, 22, 51}, std::array{0, 10, 5, 5},
                                     std::array{7, 3, 0, 10}, std::array{4, 0, 0, 4}}) {
        const LogisticFit fit = fit_logistic(table(a, b, c, d), Penalty::firth);
        CHECK(fit.converged);
        const double rest = std::log((c + 0.5) / (d + 0.5));
        CHECK(std::abs(fit.beta[0] - rest) < 1e-9);
        CHECK(std::abs(fit.beta[1] - (std::log((a + 0.5) / (b + 0.5)) - rest)) < 1e-9);
    }
}

TEST_CASE("Firth's fit equals R's brglm2 where it is not saturated") {
    check_near(fit_logistic(vasoconstriction(), Penalty::firth).beta, {-2.2454550, 4.144628, 3.630627}, 1e-6);
    const LogisticFit hours =
        fit_logistic(with_one({.5,   .75, 1,    1.25, 1.5, 1.75, 1.75, 2,    2.25, 2.5,
                               2.75, 3,   3.25, 3.5,  4,   4.25, 4.5,  4.75, 5,    5.5},
                              {0, 0, 0, 0, 0, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 1, 1, 1, 1, 1}),
                     Penalty::firth);
    check_near(hours.beta, {-3.286589, 1.201229});
}

TEST_CASE("profile intervals of the penalised likelihood equal published tables of counts") {
    // Heinze, Schemper, Stat. Med. 21 (2002) 2409-2419; six digits by an independent calculation of the profile.
    struct Example {
        std::array<int, 4> cells;
        double low, high;
    };
    for (const Example& example :
         {Example{{21, 6, 22, 51}, 1.062534, 3.100849}, Example{{0, 10, 5, 5}, -7.991534, -0.603676},
          Example{{7, 3, 0, 10}, 1.346790, 8.770175}, Example{{4, 0, 0, 4}, 1.050411, 10.222936}}) {
        const LogisticData data =
            table(example.cells[0], example.cells[1], example.cells[2], example.cells[3]);
        const Interval made = profile_interval(data, fit_logistic(data, Penalty::firth), Penalty::firth, 1);
        CHECK(std::abs(made.low - example.low) < 2e-6);
        CHECK(std::abs(made.high - example.high) < 2e-6);
    }
}

TEST_CASE("the penalised likelihood ratio of no goal in ten against five in ten") {
    // 6.464714, p 0.011004: independent calculation beside the intervals above.
    const LogisticData data = table(0, 10, 5, 5);
    const LogisticFit fit = fit_logistic(data, Penalty::firth);
    const LogisticFit held = fit_logistic(data, Penalty::firth, fit.beta, HeldCoefficient{1, 0.0});
    CHECK(held.beta[1] == 0.0);
    CHECK(std::abs(2.0 * (fit.log_likelihood - held.log_likelihood) - 6.464714) < 2e-6);
}

TEST_CASE("with the constant refitted the goals expected are the goals there were") {
    // Puhr et al., Stat. Med. 36 (2017) 2302-2317: that is what FLIC is for; slopes stay Firth's.
    LogisticData data{2, {}, {}, {}};
    for (int i = 0; i < 200; ++i)
        data.add({1.0, 0.01 * i}, i % 23 == 7);
    const LogisticFit firth = fit_logistic(data, Penalty::firth);
    const LogisticFit refitted = with_refitted_constant(data, firth);
    double firth_sum = 0.0, sum = 0.0;
    for (int i = 0; i < 200; ++i) {
        firth_sum += chance_at(firth, {1.0, 0.01 * i}).value;
        sum += chance_at(refitted, {1.0, 0.01 * i}).value;
    }
    const double goals = std::accumulate(data.y.begin(), data.y.end(), 0.0);
    CHECK(firth_sum > goals + 0.3);
    CHECK(std::abs(sum - goals) < 1e-8);
    CHECK(refitted.beta[1] == firth.beta[1]);
}

TEST_CASE("goals on one side only: plain likelihood has no top and says so, Firth's has one") {
    const LogisticData data = table(4, 0, 0, 4);
    CHECK_FALSE(fit_logistic(data, Penalty::none).converged);
    CHECK(fit_logistic(data, Penalty::firth).converged);
    LogisticData twice{3, {}, {}, {}};
    for (int i = 0; i < 20; ++i)
        twice.add({1.0, static_cast<double>(i), 2.0 * i}, i > 11);
    CHECK_FALSE(fit_logistic(twice, Penalty::firth).converged);
    CHECK_FALSE(fit_logistic(LogisticData{2, {}, {}, {}}, Penalty::firth).converged);
}

} // namespace ropeline
