#include "rink/crease.h"
#include "sheet/depth_scatter.h"
#include "sheet/svg.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {
namespace {

Season winter(RuleBookId rules = RuleBookId::usa_hockey) {
    Season season;
    season.rules = rules;
    season.parameters = parameters_for(season.level);
    return season;
}

ShotFact fact(int number, double depth_m, double crease_m, Outcome outcome) {
    ShotFact fact;
    fact.shot_id = fmt::format("shot {}", number);
    fact.depth_m = depth_m;
    fact.clearance_m = depth_m - crease_m;
    fact.band = band_of(depth_m, depth_m - crease_m, winter().parameters);
    fact.outcome = outcome;
    return fact;
}

std::vector<ShotFact> season_facts() {
    std::vector<ShotFact> facts;
    for (int i = 0; i < 200; ++i)
        facts.push_back(fact(i, 0.1 + 0.013 * i, 1.7 + 0.0005 * i,
                             i % 9 == 0   ? Outcome::goal
                             : i % 4 == 0 ? Outcome::miss
                                          : Outcome::save_held));
    return facts;
}

struct Found {
    std::vector<ScenePoint> goals, saves, others; ///< middles
    struct Strip {
        double from, to;
    };
    std::array<std::optional<Strip>, 4> strips;
};

ScenePoint middle(const std::vector<ScenePoint>& points) {
    double low = 9.0, high = -9.0, top = 9.0, bottom = -9.0;
    for (const ScenePoint& p : points) {
        low = std::min(low, p.x);
        high = std::max(high, p.x);
        top = std::min(top, p.y);
        bottom = std::max(bottom, p.y);
    }
    return {0.5 * (low + high), 0.5 * (top + bottom)};
}

/// The chart's marks by shape and role; the three of the legend at the left are left out.
Found look_at(const Scene& scene) {
    Found found;
    for (const SceneItem& item : scene.items) {
        if (const auto* fill = std::get_if<SceneFill>(&item)) {
            const auto band = static_cast<int>(fill->ink) - static_cast<int>(Ink::defensive);
            if (band >= 0 && band < 4)
                found.strips.at(static_cast<std::size_t>(band)) = {fill->points[0].x, fill->points[1].x};
            else if (middle(fill->points).x < 0.1)
                continue;
            else if (fill->ink == Ink::goal)
                found.goals.push_back(middle(fill->points));
            else if (fill->ink == Ink::other)
                found.others.push_back(middle(fill->points));
        } else if (const auto* stroke = std::get_if<SceneStroke>(&item)) {
            if (stroke->ink == Ink::save && middle(stroke->points).x > 0.1)
                found.saves.push_back(middle(stroke->points));
        }
    }
    return found;
}

// Simulation of the three dichromacies in linear RGB: Machado, Oliveira, Fernandes, IEEE Trans. Vis. Comput.
// Graph. 15 (2009) 1291-1298, severity 1.0 (from memory).
using Matrix = std::array<double, 9>;
constexpr std::array<Matrix, 4> visions = {
    {{1, 0, 0, 0, 1, 0, 0, 0, 1},
     {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
     {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881},
     {1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900}}};

std::array<double, 3> linear(Rgb colour) {
    const auto one = [](std::uint8_t value) {
        const double v = value / 255.0;
        return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    };
    return {one(colour.red), one(colour.green), one(colour.blue)};
}

/// CIE 1976 L*a*b* under D65 from linear sRGB.
std::array<double, 3> lab(const std::array<double, 3>& rgb, const Matrix& vision) {
    std::array<double, 3> seen{};
    for (std::size_t i = 0; i < 3; ++i)
        seen[i] = std::clamp(vision[3 * i] * rgb[0] + vision[3 * i + 1] * rgb[1] + vision[3 * i + 2] * rgb[2],
                             0.0, 1.0);
    const auto f = [](double t) {
        return t > 216.0 / 24389.0 ? std::cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0;
    };
    const double x = f((0.4124564 * seen[0] + 0.3575761 * seen[1] + 0.1804375 * seen[2]) / 0.95047);
    const double y = f(0.2126729 * seen[0] + 0.7151522 * seen[1] + 0.0721750 * seen[2]);
    const double z = f((0.0193339 * seen[0] + 0.1191920 * seen[1] + 0.9503041 * seen[2]) / 1.08883);
    return {116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)};
}

} // namespace

TEST_CASE("every shot with a depth and an outcome is one mark, in its row and at its depth") {
    auto facts = season_facts();
    facts.push_back(fact(900, 1.0, 1.8, Outcome::goal));
    facts.back().outcome.reset();
    facts.push_back({});
    const Scene scene = depth_scatter(facts, winter());
    const Found found = look_at(scene);
    CHECK(found.goals.size() == 23);
    CHECK(found.goals.size() + found.saves.size() + found.others.size() == 200);
    for (const ScenePoint& goal : found.goals)
        for (const ScenePoint& save : found.saves)
            CHECK(goal.y < save.y);
    for (const ScenePoint& other : found.others)
        for (const ScenePoint& save : found.saves)
            CHECK(other.y > save.y);
    // Equal steps of clearance are equal steps to the right.
    const double step = found.goals[1].x - found.goals[0].x;
    for (std::size_t i = 1; i < found.goals.size(); ++i)
        CHECK(found.goals[i].x - found.goals[i - 1].x == doctest::Approx(step).epsilon(1e-9));
    CHECK(scene.description.find("23 goals") != std::string::npos);
    CHECK(scene.description.find("2 logged") != std::string::npos);
}

TEST_CASE("every mark lies on the strip of its band, on either axis") {
    for (const DepthAxis axis : {DepthAxis::clearance, DepthAxis::depth})
        for (const ShotFact& one : season_facts()) {
            auto facts = season_facts();
            for (ShotFact& fact : facts)
                if (fact.shot_id != one.shot_id) fact.outcome = Outcome::miss;
            std::erase_if(facts, [&](const ShotFact& fact) {
                return fact.shot_id != one.shot_id && fact.shot_id != "shot 0" && fact.shot_id != "shot 199";
            });
            for (ShotFact& fact : facts)
                if (fact.shot_id == one.shot_id) fact.outcome = Outcome::goal;
            const Found found = look_at(depth_scatter(facts, winter(), axis));
            REQUIRE(found.goals.size() == 1);
            for (std::size_t band = 0; band < 4; ++band) {
                if (band == static_cast<std::size_t>(*one.band) || !found.strips[band]) continue;
                const bool inside = found.goals[0].x > found.strips[band]->from + 1e-9 &&
                                    found.goals[0].x < found.strips[band]->to - 1e-9;
                CHECK_FALSE(inside);
            }
        }
}

TEST_CASE("the strips meet at the season's edges") {
    Season season = winter();
    // USA Hockey's crease is a half disc: the same depth all round, so no gap between the strips.
    const double crease = crease_edge_m(rule_book(season.rules), {0.0, 1.0});
    const std::vector<ShotFact> facts = {fact(1, 1.0, crease, Outcome::goal)};
    const Found before = look_at(depth_scatter(facts, season));
    for (std::size_t band = 1; band < 4; ++band)
        CHECK(before.strips[band]->from == doctest::Approx(before.strips[band - 1]->to).epsilon(1e-12));
    season.parameters.base_half_width_m *= 2.0;
    const Found after = look_at(depth_scatter(facts, season));
    CHECK(after.strips[2]->to - after.strips[2]->from ==
          doctest::Approx(2.0 * (before.strips[2]->to - before.strips[2]->from)).epsilon(1e-12));
}

TEST_CASE("the same season gives the same picture, and marks stay inside the box") {
    const auto facts = season_facts();
    const Scene scene = depth_scatter(facts, winter());
    CHECK(write_svg(scene) == write_svg(depth_scatter(facts, winter())));
    for (const SceneItem& item : scene.items) {
        const auto inside = [&](const ScenePoint& p) {
            CHECK(p.x >= 0.0);
            CHECK(p.x <= 1.0);
            CHECK(p.y >= 0.0);
            CHECK(p.y <= scene.height);
        };
        if (const auto* fill = std::get_if<SceneFill>(&item))
            for (const ScenePoint& p : fill->points)
                inside(p);
        else if (const auto* stroke = std::get_if<SceneStroke>(&item))
            for (const ScenePoint& p : stroke->points)
                inside(p);
        else
            inside(std::get<SceneText>(item).at);
    }
    const Scene empty = depth_scatter({}, winter());
    CHECK(look_at(empty).goals.empty());
    CHECK(empty.items.size() > 10);
    CHECK(look_at(depth_scatter(std::vector{fact(1, 60.0, 1.8, Outcome::goal)}, winter())).goals.size() == 1);
}

TEST_CASE("goal, save and other differ for every kind of colour vision and stand out from the paper") {
    const std::array inks = {Ink::goal, Ink::save, Ink::other};
    for (const Matrix& vision : visions)
        for (std::size_t i = 0; i < 2; ++i) {
            // Goal against save is the difference that matters: well over the just noticeable one
            // (about 2.3).
            const auto a = lab(linear(ink_on_paper(Ink::goal)), vision);
            const auto b = lab(linear(ink_on_paper(inks[i + 1])), vision);
            CHECK(std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) > 20.0);
        }
    // WCAG 2.1, 1.4.11: graphics need a contrast of 3:1 against what is next to them.
    for (const Ink ink : inks)
        for (const Ink strip : {Ink::paper, Ink::defensive, Ink::conservative, Ink::base, Ink::aggressive}) {
            const auto light = linear(ink_on_paper(strip)), dark = linear(ink_on_paper(ink));
            const auto luminance = [](const auto& c) {
                return 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2];
            };
            CHECK((luminance(light) + 0.05) / (luminance(dark) + 0.05) >= 3.0);
        }
}

TEST_CASE("an SVG holds the text safely and names itself") {
    Scene scene;
    scene.height = 0.5;
    scene.title = "A <b> & \"c\"";
    scene.description = "two\nlines";
    scene.items = {SceneText{{0.5, 0.25}, "</text><script>\x01", 0.1, Anchor::end, Ink::text}};
    const std::string svg = write_svg(scene, 400.0);
    CHECK(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"400\" height=\"200\""));
    CHECK(svg.find("<title>A &lt;b&gt; &amp; &quot;c&quot;</title>") != std::string::npos);
    CHECK(svg.find("<script>") == std::string::npos);
    CHECK(svg.find("x=\"200.00\" y=\"100.00\" font-size=\"40.00\" text-anchor=\"end\"") != std::string::npos);
    CHECK(svg.ends_with("</svg>\n"));
}

} // namespace ropeline
