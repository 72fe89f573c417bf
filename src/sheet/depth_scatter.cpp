#include "sheet/depth_scatter.h"

#include "rink/crease.h"
#include "rink/units.h"
#include "sheet/chart_parts.h"
#include "sheet/text.h"
#include "tally/band_table.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {
namespace {

constexpr double scene_height = 0.445;
constexpr double left = 0.11, right = 0.972, top = 0.082, bottom = 0.372;
constexpr double row_height = (bottom - top) / 3.0;
constexpr double mark_size = 0.011;

enum Row { goals, saves, others };

double row_top(Row row) {
    return top + row_height * static_cast<int>(row);
}

Row row_of(Outcome outcome) {
    if (outcome == Outcome::goal) return goals;
    return is_save(outcome) ? saves : others;
}

struct Span {
    double low = 0.0, high = 0.0;
};

struct Axis {
    DepthAxis kind;
    Span metres;
    double x(double m) const { return left + (right - left) * (m - metres.low) / (metres.high - metres.low); }
};

double on_axis(const ShotFact& fact, DepthAxis axis) {
    return axis == DepthAxis::clearance ? *fact.clearance_m : *fact.depth_m;
}

bool can_be_drawn(const ShotFact& fact) {
    return fact.depth_m && fact.clearance_m && fact.outcome;
}

/// How far out the crease's edge is for the shots at hand; straight out when there is none.
Span crease_edges(std::span<const ShotFact> facts, const RuleBook& rules) {
    const double straight = crease_edge_m(rules, {0.0, 1.0});
    Span edges{straight, straight};
    bool first = true;
    for (const ShotFact& fact : facts) {
        if (!can_be_drawn(fact)) continue;
        const double edge = *fact.depth_m - *fact.clearance_m;
        edges = first ? Span{edge, edge} : Span{std::min(edges.low, edge), std::max(edges.high, edge)};
        first = false;
    }
    return edges;
}

/// Where each band ends and the next begins: defensive, conservative, base, aggressive.
std::array<Span, 3> band_edges(const Axis& axis, Span crease, const Parameters& parameters) {
    const double defensive = parameters.defensive_depth_m;
    const double half = parameters.base_half_width_m;
    if (axis.kind == DepthAxis::clearance)
        return {{{defensive - crease.high, defensive - crease.low}, {-half, -half}, {half, half}}};
    return {{{defensive, defensive},
             {crease.low - half, crease.high - half},
             {crease.low + half, crease.high + half}}};
}

Axis axis_for(std::span<const ShotFact> facts, std::span<const ShotFact> beside, DepthAxis kind) {
    Span metres = kind == DepthAxis::clearance ? Span{-2.0, 1.5} : Span{0.0, 3.5};
    for (const auto& side : {facts, beside})
        for (const ShotFact& fact : side) {
            if (!can_be_drawn(fact)) continue;
            metres.low = std::min(metres.low, std::floor(2.0 * on_axis(fact, kind)) / 2.0);
            metres.high = std::max(metres.high, std::ceil(2.0 * on_axis(fact, kind)) / 2.0);
        }
    return {kind, metres};
}

/// A number in -0.5 .. 0.5 that depends on the id alone (FNV-1a, 32 bits, mixed once more).
double spread(const Id& id) {
    std::uint32_t hash = 2166136261U;
    for (const char c : id)
        hash = (hash ^ static_cast<std::uint8_t>(c)) * 16777619U;
    hash = (hash ^ (hash >> 15)) * 2246822519U;
    return static_cast<double>(hash ^ (hash >> 13)) / 4294967296.0 - 0.5;
}

void add_mark(Scene& scene, Row row, ScenePoint at) {
    const double r = 0.5 * mark_size;
    switch (row) {
    case goals:
        scene.items.emplace_back(
            SceneFill{{{at.x - r, at.y + 0.8 * r}, {at.x, at.y - r}, {at.x + r, at.y + 0.8 * r}}, Ink::goal});
        return;
    case saves: {
        SceneStroke ring{{}, 0.2 * mark_size, Ink::save, true};
        for (int i = 0; i < 16; ++i)
            ring.points.push_back(
                {at.x + 0.85 * r * std::cos(i * pi / 8.0), at.y + 0.85 * r * std::sin(i * pi / 8.0)});
        scene.items.emplace_back(ring);
        return;
    }
    case others: {
        const double half = 0.18 * mark_size;
        scene.items.emplace_back(SceneFill{{{at.x - half, at.y - r},
                                            {at.x + half, at.y - r},
                                            {at.x + half, at.y + r},
                                            {at.x - half, at.y + r}},
                                           Ink::other});
        return;
    }
    }
}

void add_strips(Scene& scene, const Axis& axis, const std::array<Span, 3>& edges,
                std::span<const ShotFact> facts) {
    constexpr std::array inks = {Ink::defensive, Ink::conservative, Ink::base, Ink::aggressive};
    const bool only_goals = std::ranges::all_of(
        facts, [](const ShotFact& fact) { return !can_be_drawn(fact) || fact.outcome == Outcome::goal; });
    for (std::size_t band = 0; band < 4; ++band) {
        const double from = std::max(band == 0 ? axis.metres.low : edges[band - 1].high, axis.metres.low);
        const double to = std::min(band == 3 ? axis.metres.high : edges[band].low, axis.metres.high);
        if (to <= from) continue;
        const double x0 = axis.x(from), x1 = axis.x(to), middle = 0.5 * (x0 + x1);
        scene.items.emplace_back(SceneFill{{{x0, top}, {x1, top}, {x1, bottom}, {x0, bottom}}, inks[band]});
        const auto value = static_cast<Band>(band);
        std::vector<ShotFact> inside;
        std::copy_if(facts.begin(), facts.end(), std::back_inserter(inside),
                     [&](const ShotFact& fact) { return can_be_drawn(fact) && fact.band == value; });
        const Counts counts = count(inside);
        scene.items.emplace_back(SceneText{
            {middle, top - 0.054}, std::string{label_of(value)}, 0.0185, Anchor::middle, Ink::text, true});
        const auto say = [&](double y, const std::string& figure) {
            scene.items.emplace_back(SceneText{{middle, y}, figure, 0.0165, Anchor::middle, Ink::quiet_text});
        };
        const auto sure = counts.interval();
        if (!sure || only_goals) {
            say(top - 0.032,
                fmt::format("{} shot{} on goal", counts.on_goal, counts.on_goal == 1 ? "" : "s"));
            continue;
        }
        say(top - 0.032, fmt::format("{} of {}", percentage_text(counts.save_percentage()), counts.on_goal));
        say(top - 0.012, fmt::format("{} to {}", percentage_text(sure->low), percentage_text(sure->high)));
    }
}

void add_axis(Scene& scene, const Axis& axis) {
    scene.items.emplace_back(SceneStroke{{{left, bottom}, {right, bottom}}, 0.0012, Ink::quiet_text});
    const auto ticks = static_cast<int>(std::lround(2.0 * (axis.metres.high - axis.metres.low)));
    const int each = ticks > 24 ? 4 : ticks > 12 ? 2 : 1;
    for (int i = 0; i <= ticks; i += each) {
        const double m = axis.metres.low + 0.5 * i;
        const double x = axis.x(m);
        scene.items.emplace_back(SceneStroke{{{x, bottom}, {x, bottom + 0.006}}, 0.0012, Ink::quiet_text});
        const bool edge_of_crease = axis.kind == DepthAxis::clearance && m == 0.0;
        if (edge_of_crease)
            scene.items.emplace_back(SceneStroke{{{x, top}, {x, bottom}}, 0.0012, Ink::quiet_text});
        scene.items.emplace_back(
            SceneText{{x, bottom + 0.025},
                      edge_of_crease ? "0" : fmt::format("{:+.1f}", m).substr(axis.kind == DepthAxis::depth),
                      0.0165,
                      Anchor::middle,
                      Ink::quiet_text});
    }
    scene.items.emplace_back(SceneText{
        {0.5 * (left + right), bottom + 0.055},
        axis.kind == DepthAxis::clearance
            ? "metres from the edge of the crease along the puck line (- inside the paint, + outside)"
            : "metres from the middle of the goal line along the puck line",
        0.0165,
        Anchor::middle,
        Ink::quiet_text});
}

} // namespace

Scene depth_scatter(std::span<const ShotFact> facts, const Season& season, DepthAxis kind,
                    std::span<const ShotFact> beside) {
    const Axis axis = axis_for(facts, beside, kind);
    const auto edges = band_edges(axis, crease_edges(facts, rule_book(season.rules)), season.parameters);

    Scene scene;
    scene.height = scene_height;
    scene.title = "Depth at the shot and outcome, with saves of shots on goal by band and their 95 %";
    add_strips(scene, axis, edges, facts);
    std::array<int, 3> drawn{};
    for (const ShotFact& fact : facts) {
        if (!can_be_drawn(fact)) continue;
        const Row row = row_of(*fact.outcome);
        ++drawn[row];
        const ScenePoint at{axis.x(on_axis(fact, kind)),
                            row_top(row) + row_height * (0.5 + 0.72 * spread(fact.shot_id))};
        add_mark(scene, row, at);
        chart::stands_for_shot(scene, at, fact.shot_id, 0.014);
    }
    constexpr std::array names = {"goals", "saves", "other"};
    for (const Row row : {goals, saves, others}) {
        const double y = row_top(row) + 0.5 * row_height;
        if (row != goals)
            scene.items.emplace_back(
                SceneStroke{{{left, row_top(row)}, {right, row_top(row)}}, 0.0008, Ink::rule});
        add_mark(scene, row, {0.016, y - 0.006});
        scene.items.emplace_back(SceneText{{0.028, y}, names[row], 0.0185, Anchor::start, Ink::text, true});
        scene.items.emplace_back(SceneText{
            {0.028, y + 0.022}, std::to_string(drawn[row]), 0.0165, Anchor::start, Ink::quiet_text});
    }
    add_axis(scene, axis);
    const int left_out = static_cast<int>(facts.size()) - drawn[goals] - drawn[saves] - drawn[others];
    scene.description = fmt::format(
        "{} goals, {} saves and {} others by how far out the goalie stood; {} logged without a depth or an "
        "outcome are not drawn.",
        drawn[goals], drawn[saves], drawn[others], left_out);
    return scene;
}

} // namespace ropeline
