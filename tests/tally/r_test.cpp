// The same figures by R (r-base-core, r-cran-brglm2), where it is installed.
#include "tally/difference.h"
#include "tally/logistic.h"
#include "tally/shrinkage.h"
#include "tally/simulated_league.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <vector>

namespace ropeline {
namespace {

struct Attempt {
    bool goal = false, out = false;
    int layer = 0;
    double clearance = 0.0, distance = 0.0, pass = 0.0;
};

std::vector<Attempt> random_season(std::mt19937_64& random) {
    std::vector<Attempt> season;
    const int of = simulated::whole(150, 600, random);
    for (int i = 0; i < of; ++i) {
        Attempt one;
        one.layer = simulated::whole(0, 11, random);
        one.clearance = 0.6 * simulated::normal(random);
        one.out = one.clearance > -0.1 + 0.03 * one.layer;
        one.distance = 3.0 + 12.0 * simulated::uniform(random);
        one.pass = simulated::happens(0.3, random) ? 1.0 : 0.0;
        const double odds =
            -1.6 + 0.4 * one.clearance * (one.pass - 0.5) - 0.1 * one.distance + 0.7 * one.pass;
        one.goal = simulated::happens(1.0 / (1.0 + std::exp(-odds)), random);
        season.push_back(one);
    }
    return season;
}

std::vector<double> ours(const std::vector<Attempt>& season) {
    Share out, inside;
    std::array<Layer, 12> layers{};
    LogisticData data{4, {}, {}, {}};
    for (const Attempt& one : season) {
        Layer& layer = layers.at(static_cast<std::size_t>(one.layer));
        for (Share* share : {one.out ? &out : &inside, one.out ? &layer.first : &layer.second}) {
            ++share->of;
            share->hits += one.goal ? 1 : 0;
        }
        data.add({1.0, one.clearance, one.distance, one.pass}, one.goal);
    }
    std::vector<double> made;
    const auto add = [&](std::initializer_list<double> values) { made.insert(made.end(), values); };
    const Interval share = wilson(out.hits + inside.hits, out.of + inside.of);
    const Interval difference = newcombe_difference(out, inside).interval;
    add({share.low, share.high, difference.low, difference.high, fisher_exact(out, inside).two_sided});
    const LogisticFit plain = fit_logistic(data, Penalty::none), firth = fit_logistic(data, Penalty::firth);
    made.insert(made.end(), plain.beta.begin(), plain.beta.end());
    made.insert(made.end(), firth.beta.begin(), firth.beta.end());
    for (int column = 0; column < 4; ++column)
        made.push_back(firth.standard_error(column));
    const Difference within = *mantel_haenszel_difference(layers);
    add({with_refitted_constant(data, firth).beta[0], within.value, within.interval.low,
         within.interval.high});
    const Interval drawn = shrunk(out, Spread{8.0, 72.0, true, {}}).interval;
    add({drawn.low, drawn.high});
    return made;
}

} // namespace

TEST_CASE("on fifty random seasons every figure equals R's to 1e-8") {
    if (std::system("Rscript -e 'library(brglm2)' >/dev/null 2>&1") != 0) {
        MESSAGE("no Rscript with brglm2 here: not compared");
        return;
    }
    const auto folder =
        std::filesystem::temp_directory_path() / fmt::format("ropeline_r_{}", std::random_device{}());
    std::filesystem::create_directories(folder);
    std::mt19937_64 random{50};
    std::vector<std::vector<double>> seasons;
    {
        std::ofstream csv{folder / "seasons.csv"};
        csv << "season,goal,out,layer,clearance,distance,pass\n";
        for (int i = 0; i < 50; ++i) {
            const auto season = random_season(random);
            for (const Attempt& one : season)
                csv << fmt::format("{},{:d},{:d},{},{},{},{}\n", i, one.goal, one.out, one.layer,
                                   one.clearance, one.distance, one.pass);
            seasons.push_back(ours(season));
        }
    }
    const auto command = fmt::format("Rscript '{}/tests/tally/against_r.R' '{}' '{}'", ROPELINE_SOURCE_DIR,
                                     (folder / "seasons.csv").string(), (folder / "figures.txt").string());
    REQUIRE(std::system(command.c_str()) == 0);
    std::ifstream figures{folder / "figures.txt"};
    double worst = 0.0;
    std::size_t compared = 0;
    for (const auto& season : seasons) {
        std::string line;
        REQUIRE(std::getline(figures, line));
        std::istringstream theirs{line};
        for (const double value : season) {
            double other = 0.0;
            REQUIRE(static_cast<bool>(theirs >> other));
            worst = std::max(worst, std::abs(value - other));
            ++compared;
        }
    }
    MESSAGE(compared, " figures, the largest difference ", worst);
    CHECK(compared == 50 * 23);
    CHECK(worst < 1e-8);
    std::filesystem::remove_all(folder);
}

} // namespace ropeline
