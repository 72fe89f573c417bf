#include "tally/difference.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace ropeline {

TEST_CASE("Newcombe's difference equals his published examples") {
    // Newcombe, Stat. Med. 17 (1998) 873-890, table II, method 10 (printed to four digits; from memory), six by
    // an independent calculation.
    struct Example {
        Share first, second;
        double value, low, high;
    };
    for (const Example& example :
         {Example{{56, 70}, {48, 80}, 0.2, 0.052431, 0.333873},
          Example{{9, 10}, {3, 10}, 0.6, 0.170523, 0.809018},
          Example{{6, 7}, {2, 7}, 0.571429, 0.058228, 0.806250},
          Example{{5, 56}, {0, 29}, 0.089286, -0.038137, 0.192560},
          Example{{0, 10}, {0, 20}, 0.0, -0.161125, 0.277533},
          Example{{0, 10}, {0, 10}, 0.0, -0.277533, 0.277533}, Example{{10, 10}, {0, 20}, 1.0, 0.679086, 1.0},
          Example{{10, 10}, {0, 10}, 1.0, 0.607509, 1.0}}) {
        CAPTURE(example.first.hits);
        const Difference made = newcombe_difference(example.first, example.second);
        CHECK(std::abs(made.value - example.value) < 5.1e-7);
        CHECK(std::abs(made.interval.low - example.low) < 5.1e-7);
        CHECK(std::abs(made.interval.high - example.high) < 5.1e-7);
        const Difference turned = newcombe_difference(example.second, example.first);
        CHECK(std::abs(turned.interval.low + made.interval.high) < 1e-14);
    }
}

TEST_CASE("56 of 70 and 48 of 80 overlap one by one, and differ all the same") {
    CHECK(wilson(56, 70).low < wilson(48, 80).high);
    CHECK(newcombe_difference({56, 70}, {48, 80}).interval.low > 0.05);
}

TEST_CASE("the difference within layers equals R's metafor on the thirteen BCG trials") {
    // Colditz et al., J. Am. Med. Assoc. 271 (1994) 698-702: cases of all, vaccinated and not, as in metafor's dat.bcg;
    // rma.mh(measure = "RD") of metafor gives the two figures (Sato's variance).
    const std::vector<Layer> trials = {
        {{4, 123}, {11, 139}},       {{6, 306}, {29, 303}},        {{3, 231}, {11, 220}},
        {{62, 13598}, {248, 12867}}, {{33, 5069}, {47, 5808}},     {{180, 1541}, {372, 1451}},
        {{8, 2545}, {10, 629}},      {{505, 88391}, {499, 88391}}, {{29, 7499}, {45, 7277}},
        {{17, 1716}, {65, 1665}},    {{186, 50634}, {141, 27338}}, {{5, 2498}, {3, 2341}},
        {{27, 16913}, {29, 17854}}};
    CHECK(std::abs(mantel_haenszel_difference(trials)->value - -0.003288181832613) < 1e-11);
    CHECK(std::abs(std::sqrt(*mantel_haenszel_variance(trials)) - 0.000286656748527) < 1e-11);
}

TEST_CASE("the ends of the layered interval are where the difference lies 1.96 standard errors off") {
    // Klingenberg, Stat. Med. 33 (2014) 2968-2983: (value - d)^2 = z^2 var(d), var after Sato at d; solved by halving here.
    const std::vector<Layer> layers = {
        {{9, 19}, {1, 12}}, {{3, 40}, {6, 31}}, {{0, 7}, {2, 9}}, {{4, 4}, {0, 0}}};
    double weight = 0.0, value = 0.0, p = 0.0, q = 0.0;
    for (const auto& [first, second] : layers) {
        if (second.of == 0) continue;
        const double n1 = first.of, n2 = second.of, n = n1 + n2, p1 = first.hits / n1, p2 = second.hits / n2;
        weight += n1 * n2 / n;
        value += n1 * n2 / n * (p1 - p2);
        p += (n1 * n1 * p2 * n2 - n2 * n2 * p1 * n1 + n1 * n2 * (n2 - n1) / 2.0) / (n * n);
        q += (p1 * n1 * n2 * (1.0 - p2) + p2 * n2 * n1 * (1.0 - p1)) / (2.0 * n);
    }
    value /= weight;
    const auto excess = [&](double d) {
        return (value - d) * (value - d) - normal_975 * normal_975 * (d * p + q) / (weight * weight);
    };
    const auto root = [&](double inside, double outside) {
        for (int turn = 0; turn < 80; ++turn)
            (excess(0.5 * (inside + outside)) > 0.0 ? outside : inside) = 0.5 * (inside + outside);
        return inside;
    };
    const auto made = mantel_haenszel_difference(layers);
    REQUIRE(made);
    CHECK(std::abs(made->value - value) < 1e-12);
    CHECK(std::abs(made->interval.low - root(value, -1.0)) < 1e-12);
    CHECK(std::abs(made->interval.high - root(value, 1.0)) < 1e-12);
}

TEST_CASE("like plays that all ended alike leave as much open as their number does") {
    // One layer: Newcombe's own interval (0 of 10 against 0 of 20 above). Layers in quadrature, each with its weight's share.
    const auto one = mantel_haenszel_difference(std::vector<Layer>{{{0, 10}, {0, 20}}});
    REQUIRE(one);
    CHECK(one->value == 0.0);
    CHECK(std::abs(one->interval.low - -0.161125) < 5.1e-7);
    CHECK(std::abs(one->interval.high - 0.277533) < 5.1e-7);
    const auto four = mantel_haenszel_difference(std::vector<Layer>(4, Layer{{0, 10}, {0, 20}}));
    CHECK(std::abs(four->interval.high - 0.5 * 0.277533) < 5.1e-7);
    for (const Layer& single : {Layer{{0, 1}, {0, 1}}, Layer{{1, 1}, {1, 1}}}) {
        const auto made = mantel_haenszel_difference(std::vector<Layer>{single});
        CHECK(made->value == 0.0);
        CHECK(made->interval.low < -0.5);
        CHECK(made->interval.high > 0.5);
    }
}

TEST_CASE("one layer is the plain difference; a layer with one side only says nothing") {
    const std::vector<Layer> one = {{{56, 70}, {48, 80}}};
    CHECK(std::abs(mantel_haenszel_difference(one)->value - 0.2) < 1e-15);
    const std::vector<Layer> two = {one[0], {{5, 5}, {0, 0}}};
    CHECK(mantel_haenszel_difference(two)->interval.low == mantel_haenszel_difference(one)->interval.low);
    CHECK_FALSE(mantel_haenszel_difference(std::vector<Layer>{{{5, 5}, {0, 0}}}));
    CHECK_FALSE(mantel_haenszel_difference({}));
}

TEST_CASE("a difference that the pool turns round is right within its layers") {
    // Kidney stones, Charig et al., Br. Med. J. 292 (1986) 879-882: open surgery does better in both sizes, worse pooled.
    const std::vector<Layer> sizes = {{{81, 87}, {234, 270}}, {{192, 263}, {55, 80}}};
    CHECK(newcombe_difference({273, 350}, {289, 350}).value < 0.0);
    CHECK(mantel_haenszel_difference(sizes)->value > 0.0);
}

TEST_CASE("Fisher's exact test equals R and the published tea") {
    // R fisher.test; Fisher, The Design of Experiments, ch. 2 (3 of 4 cups: 17/70; all four: 1/70).
    struct Example {
        Share first, second;
        double less, greater, two_sided;
    };
    for (const Example& example : {Example{{3, 4}, {1, 4}, -1.0, 17.0 / 70.0, 34.0 / 70.0},
                                   Example{{4, 4}, {0, 4}, -1.0, 1.0 / 70.0, 2.0 / 70.0},
                                   Example{{2, 12}, {15, 18}, 0.0004651809, -1.0, 0.0005367241},
                                   Example{{1, 10}, {11, 14}, 0.0013797281, -1.0, 0.0027594562},
                                   Example{{8, 10}, {1, 6}, -1.0, 0.0244755245, 0.0349650350}}) {
        const ExactTest test = fisher_exact(example.first, example.second);
        if (example.less >= 0.0) CHECK(std::abs(test.less - example.less) < 1e-10);
        if (example.greater >= 0.0) CHECK(std::abs(test.greater - example.greater) < 1e-10);
        CHECK(std::abs(test.two_sided - example.two_sided) < 1e-10);
    }
    CHECK(fisher_exact({0, 0}, {3, 7}).two_sided == 1.0);
    CHECK(fisher_exact({0, 5}, {0, 9}).two_sided == 1.0);
    CHECK(fisher_exact({90'000, 1'000'000}, {91'000, 1'000'000}).two_sided < 0.05);
}

} // namespace ropeline
