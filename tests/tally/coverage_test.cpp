// How often each interval holds the truth it was made for, over seasons whose truth is known.
#include "tally/agreement.h"
#include "tally/difference.h"
#include "tally/logistic.h"
#include "tally/over_games.h"
#include "tally/shrinkage.h"
#include "tally/simulated_league.h"
#include "tally/special.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <random>
#include <string>
#include <vector>

namespace ropeline {
namespace {

using simulated::happens;
using simulated::normal;
using simulated::uniform;
using simulated::whole;
using Random = std::mt19937_64;

bool is_long() {
    return std::getenv("ROPELINE_LONG_TESTS") != nullptr;
}

struct Held {
    int held = 0, of = 0;
    void add(bool holds) {
        ++of;
        held += holds ? 1 : 0;
    }
    void add(const Interval& interval, double truth) { add(interval.low <= truth && truth <= interval.high); }
};

/// 2000 seasons have to hold it in 93 to 97 of 100; a small run in four standard errors of 95.
void check_coverage(const char* name, const std::function<void(Held&, Random&)>& season, int small = 400) {
    Random random{17};
    const int seasons = is_long() ? 2000 : small;
    Held held;
    for (int i = 0; i < seasons; ++i)
        season(held, random);
    const double share = static_cast<double>(held.held) / held.of;
    MESSAGE(std::string{name}, ": ", 100.0 * share, " % over ", seasons, " seasons");
    const double room = is_long() ? 0.02 : 4.0 * std::sqrt(0.95 * 0.05 / seasons);
    CHECK(share >= 0.95 - room);
    CHECK(share <= 0.95 + room);
}

Share counted(int of, double chance, Random& random) {
    Share share{0, of};
    for (int i = 0; i < of; ++i)
        share.hits += happens(chance, random) ? 1 : 0;
    return share;
}

double odds_to_chance(double odds) {
    return 1.0 / (1.0 + std::exp(-odds));
}

/// 300 attempts, about one in nine a goal, by clearance and pass.
LogisticData attempts(Random& random, const std::array<double, 3>& beta) {
    LogisticData data{3, {}, {}, {}};
    for (int i = 0; i < 300; ++i) {
        const double clearance = 0.6 * normal(random), pass = happens(0.35, random) ? 1.0 : 0.0;
        data.add({1.0, clearance, pass},
                 happens(odds_to_chance(beta[0] + beta[1] * clearance + beta[2] * pass), random));
    }
    return data;
}

} // namespace

TEST_CASE("Wilson's interval of a share holds the truth in 95 of 100 seasons") {
    check_coverage("share", [](Held& held, Random& random) {
        const double truth = 0.03 + 0.17 * uniform(random);
        const Share share = counted(whole(100, 600, random), truth, random);
        held.add(wilson(share.hits, share.of), truth);
    });
}

TEST_CASE("Newcombe's interval of a difference holds the truth in 95 of 100 seasons") {
    check_coverage("difference", [](Held& held, Random& random) {
        const double one = 0.03 + 0.2 * uniform(random), other = 0.03 + 0.2 * uniform(random);
        held.add(newcombe_difference(counted(whole(60, 400, random), one, random),
                                     counted(whole(60, 400, random), other, random))
                     .interval,
                 one - other);
    });
}

TEST_CASE("the interval of the difference within like plays holds the truth in 95 of 100 seasons") {
    check_coverage("difference within like plays", [](Held& held, Random& random) {
        std::vector<Layer> layers;
        for (int i = 0; i < 8; ++i) {
            const double base = 0.05 + 0.2 * uniform(random);
            layers.push_back({counted(whole(3, 90, random), base - 0.03, random),
                              counted(whole(3, 90, random), base, random)});
        }
        held.add(mantel_haenszel_difference(layers)->interval, -0.03);
    });
}

TEST_CASE("the profile interval of a log odds holds the truth in 95 of 100 seasons") {
    const std::array<double, 3> truth{-2.3, 0.5, 0.6};
    check_coverage("log odds a metre", [&](Held& held, Random& random) {
        const LogisticData data = attempts(random, truth);
        held.add(profile_interval(data, fit_logistic(data, Penalty::firth), Penalty::firth, 1), truth[1]);
    });
}

TEST_CASE("the band about a goal chance holds the truth in 95 of 100 seasons") {
    const std::array<double, 3> truth{-2.3, 0.5, 0.6};
    check_coverage("goal chance on the curve", [&](Held& held, Random& random) {
        const LogisticData data = attempts(random, truth);
        const LogisticFit fit = with_refitted_constant(data, fit_logistic(data, Penalty::firth));
        held.add(chance_at(fit, {1.0, 0.4, 1.0}).interval, odds_to_chance(-2.3 + 0.2 + 0.6));
    });
}

TEST_CASE("kappa's interval holds the truth in 95 of 100 reviews") {
    // The second repeats the first's word in 7 of 10 and else takes one of the three at random: kappa 0.7.
    check_coverage("kappa", [](Held& held, Random& random) {
        std::array<int, 9> table{};
        for (int i = 0; i < 200; ++i) {
            const int first = whole(0, 2, random),
                      second = happens(0.7, random) ? first : whole(0, 2, random);
            ++table.at(static_cast<std::size_t>(3 * first + second));
        }
        held.add(cohens_kappa(table, 3)->interval, 0.7);
    });
}

TEST_CASE("the intervals of mean and limits of agreement hold the truth in 95 of 100 reviews") {
    for (const int which : {0, 1, 2})
        check_coverage(
            std::array{"mean difference", "lower limit", "upper limit"}.at(static_cast<std::size_t>(which)),
            [which](Held& held, Random& random) {
                std::vector<std::pair<double, double>> pairs;
                for (int i = 0; i < 60; ++i)
                    pairs.emplace_back(0.1 + 0.2 * normal(random), 0.0);
                const LimitsOfAgreement made = *bland_altman(pairs);
                held.add(which == 0   ? made.mean_interval
                         : which == 1 ? made.low_interval
                                      : made.high_interval,
                         0.1 + std::array{0.0, -1.96, 1.96}.at(static_cast<std::size_t>(which)) * 0.2);
            });
}

TEST_CASE("the interval of a goalie drawn towards all holds his own share in 95 of 100") {
    check_coverage(
        "goalie drawn towards all",
        [](Held& held, Random& random) {
            std::vector<double> truths;
            std::vector<Share> shares;
            for (int i = 0; i < 40; ++i) {
                truths.push_back(beta_quantile(20.0, 180.0, uniform(random)));
                shares.push_back(counted(whole(60, 500, random), truths.back(), random));
            }
            const auto spread = spread_of(shares);
            for (std::size_t i = 0; i < shares.size(); ++i)
                held.add(shrunk(shares[i], *spread).interval, truths[i]);
        },
        30);
}

TEST_CASE("the interval of what was given away a play holds the truth in 95 of 100 seasons") {
    // The square of an even draw, times .3: most plays give little away, a few give much. Its mean is .1.
    check_coverage("given away a play", [](Held& held, Random& random) {
        std::vector<ShotFact> facts(80);
        for (std::size_t i = 0; i < facts.size(); ++i) {
            facts[i].game_id = fmt::format("game {}", i / 8);
            facts[i].gave_away = 0.3 * std::pow(uniform(random), 2.0);
        }
        held.add(*over_games(facts).all.mean_interval, 0.1);
    });
}

TEST_CASE("the interval of the odds ten games on holds the truth in 95 of 100 seasons, short and long") {
    // Up to 5000 attempts it is the profile's, beyond them the usual one by the standard error.
    for (const int a_game : {15, 140})
        check_coverage(
            a_game < 100 ? "odds ten games on" : "odds ten games on, many attempts",
            [a_game](Held& held, Random& random) {
                std::vector<ShotFact> facts(static_cast<std::size_t>(40 * a_game));
                for (std::size_t i = 0; i < facts.size(); ++i) {
                    const auto game = i / static_cast<std::size_t>(a_game);
                    facts[i].game_id = fmt::format("game {:02}", game);
                    facts[i].game_date = fmt::format("2026-{:02}-{:02}", 1 + game / 28, 1 + game % 28);
                    const double odds = -2.2 + 0.2 * static_cast<double>(game) / 10.0;
                    facts[i].outcome =
                        happens(odds_to_chance(odds), random) ? Outcome::goal : Outcome::save_held;
                }
                held.add(over_games(facts).odds_interval, std::exp(0.2));
            },
            100);
}

} // namespace ropeline
