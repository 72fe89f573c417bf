// Goals by depth, differences, and the goal chance as a curve.
#include "sheet/chart_parts.h"
#include "sheet/season_charts.h"
#include "sheet/share_words.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <tuple>
#include <utility>

namespace ropeline {
namespace {

using namespace chart;

constexpr double chart_left = 0.10, chart_right = 0.97;

std::string signed_text(double share) {
    if (std::abs(share) < 0.005) return "0";
    return (share < 0.0 ? "-" : "+") + two_digits(share);
}

/// In   of: what the axis counts, written over its end.
void add_share_axis(Scene& scene, const Scale& y, std::string of) {
    write(scene, {chart_right, 0.035}, std::move(of), Anchor::end, Ink::quiet_text);
    for (const double tick : ticks(y.low, y.high)) {
        line(scene, {chart_left, y(tick)}, {chart_right, y(tick)});
        write(scene, {chart_left - 0.012, y(tick) + 0.009}, two_digits(tick), Anchor::end, Ink::quiet_text);
    }
}

void add_series_words(Scene& scene, double y) {
    shape(scene, {chart_left + 0.01, y - 0.009}, Shape::disc, Ink::shot);
    write(scene, {chart_left + 0.03, y}, "clear shots", Anchor::start, Ink::shot);
    shape(scene, {chart_left + 0.21, y - 0.009}, Shape::diamond, Ink::pass);
    write(scene, {chart_left + 0.23, y}, "passes", Anchor::start, Ink::pass);
}

/// In   of: what the share is of, for who points at it.
void add_band_mark(Scene& scene, double x, const Scale& y, Share share, Shape mark, Ink ink,
                   const std::string& of) {
    if (share.of == 0) return;
    const Interval interval = wilson(share.hits, share.of);
    line(scene, {x, y(interval.low)}, {x, y(interval.high)}, thick, ink);
    for (const double end : {interval.low, interval.high})
        line(scene, {x - 0.010, y(end)}, {x + 0.010, y(end)}, thin, ink);
    const ScenePoint at{x, y(static_cast<double>(share.hits) / share.of)};
    shape(scene, at, mark, ink, true, 0.030);
    stands_for(scene, at, fmt::format("{}: {}", of, share_words(share)), 0.03);
}

struct DifferenceRow {
    std::string label;
    Difference difference;
    Shape mark;
    Ink ink;
    std::string counts; ///< of either side: "5 of 144 less 10 of 136"
};

std::vector<DifferenceRow> difference_rows(const SeasonTally& tally) {
    std::vector<DifferenceRow> rows;
    const auto add = [&](std::string label, const std::optional<Difference>& difference, Shape mark, Ink ink,
                         Share first, Share second) {
        if (difference)
            rows.push_back({std::move(label), *difference, mark, ink,
                            fmt::format("{} less {}", count_words(first), count_words(second))});
    };
    const ComingOut &shots = tally.on_shots, &passes = tally.on_passes;
    const OverGames& games = tally.over_games;
    add("clear shots, like plays: base or beyond less inside", shots.within_like_plays, Shape::disc,
        Ink::shot, shots.out, shots.inside);
    add("clear shots, all of them", shots.plain, Shape::disc, Ink::shot, shots.out, shots.inside);
    add("passes, like plays: base or beyond less inside", passes.within_like_plays, Shape::diamond, Ink::pass,
        passes.out, passes.inside);
    add("passes, all of them", passes.plain, Shape::diamond, Ink::pass, passes.out, passes.inside);
    add("any other verdict less the right depth", tally.decisions.difference, Shape::square, Ink::other,
        tally.decisions.wrong, tally.decisions.right);
    add("second half of the season less the first", games.half_difference, Shape::triangle, Ink::other,
        games.second_half, games.first_half);
    return rows;
}

double highest_share(const SeasonTally& tally) {
    double top = 0.2;
    for (const auto* bands : {&tally.bands_on_shots, &tally.bands_on_passes})
        for (const Counts& counts : *bands)
            if (counts.unblocked > 0) top = std::max(top, wilson(counts.goals, counts.unblocked).high);
    return top;
}

/// How far to either side of none the intervals go.
double reach_of(const std::vector<DifferenceRow>& rows) {
    double reach = 0.12;
    for (const DifferenceRow& row : rows)
        reach =
            std::max({reach, std::abs(row.difference.interval.low), std::abs(row.difference.interval.high)});
    return std::ceil(20.0 * reach) / 20.0;
}

void add_curve(Scene& scene, const std::vector<ChanceAt>& curve, const Scale& x, const Scale& y, Ink band) {
    const auto at = [&](const ChanceAt& one, double chance) {
        return ScenePoint{x(one.clearance_m), y(std::min(chance, y.high))};
    };
    for (std::size_t i = 1; i < curve.size(); ++i) {
        const ChanceAt &a = curve[i - 1], &b = curve[i];
        scene.items.emplace_back(SceneFill{{at(a, a.chance.interval.low), at(a, a.chance.interval.high),
                                            at(b, b.chance.interval.high), at(b, b.chance.interval.low)},
                                           band});
        line(scene, at(b, b.chance.interval.low), at(b, b.chance.interval.high), thin, band); // no seam
    }
}

} // namespace

Scene goals_by_depth(const SeasonTally& tally, const SeasonTally* beside) {
    Scene scene;
    scene.height = 0.68;
    scene.title = "Goals of unblocked attempts, by depth at the decision";
    const double top = std::max(highest_share(tally), beside ? highest_share(*beside) : 0.0);
    const Scale y{0.0, std::min(1.0, std::ceil(10.0 * top) / 10.0), 0.50, 0.07};
    add_series_words(scene, 0.035);
    add_share_axis(scene, y, "share that went in, with 95 %");
    std::string words;
    for (std::size_t band = 0; band < 4; ++band) {
        const double x =
            chart_left + (chart_right - chart_left) * (2.0 * static_cast<double>(band) + 1.0) / 8.0;
        const Share shots = tally.bands_on_shots[band].goals_of_unblocked(),
                    passes = tally.bands_on_passes[band].goals_of_unblocked();
        const std::string of = fmt::format("that went in, goalie {}", label_of(static_cast<Band>(band)));
        add_band_mark(scene, x - 0.035, y, shots, Shape::disc, Ink::shot, "clear shots " + of);
        add_band_mark(scene, x + 0.035, y, passes, Shape::diamond, Ink::pass, "passes " + of);
        write(scene, {x, 0.545}, std::string{label_of(static_cast<Band>(band))}, Anchor::middle, Ink::text,
              text_size, true);
        write(scene, {x, 0.59}, fmt::format("{} of {}", shots.hits, shots.of), Anchor::middle, Ink::shot);
        write(scene, {x, 0.63}, fmt::format("{} of {}", passes.hits, passes.of), Anchor::middle, Ink::pass);
        words += fmt::format(" {}: {} of {} and {} of {}.", label_of(static_cast<Band>(band)), shots.hits,
                             shots.of, passes.hits, passes.of);
    }
    scene.description = "Goals of unblocked attempts on clear shots and on passes, by band." + words;
    return scene;
}

Scene differences_chart(const SeasonTally& tally, const SeasonTally* beside) {
    Scene scene;
    scene.title = "Differences in goals of unblocked attempts, with 95 %";
    const auto rows = difference_rows(tally);
    const double reach = std::max(reach_of(rows), beside ? reach_of(difference_rows(*beside)) : 0.0);
    const double top = 0.05, each = 0.088,
                 bottom = top + each * static_cast<double>(std::max<std::size_t>(rows.size(), 1));
    scene.height = bottom + 0.10;
    const Scale x{-reach, reach, 0.04, 0.96};
    scene.description = "Differences with 95 % intervals.";
    double y = top;
    for (const DifferenceRow& row : rows) {
        const Interval& interval = row.difference.interval;
        write(scene, {0.04, y + 0.027}, row.label, Anchor::start, Ink::text);
        write(scene, {0.96, y + 0.027},
              fmt::format("{} ({} to {})", signed_text(row.difference.value), signed_text(interval.low),
                          signed_text(interval.high)),
              Anchor::end, Ink::quiet_text);
        box(scene, {x(-worth_acting_on), y + 0.037}, {x(worth_acting_on), y + 0.073}, Ink::base);
        line(scene, {x(0.0), y + 0.037}, {x(0.0), y + 0.073}, 0.003, Ink::quiet_text);
        level_whisker(scene, y + 0.055, x(interval.low), x(row.difference.value), x(interval.high), row.mark,
                      row.ink);
        stands_for(scene, {x(row.difference.value), y + 0.055}, row.label + ": " + row.counts, 0.03);
        scene.description += fmt::format(" {}: {} ({} to {}).", row.label, signed_text(row.difference.value),
                                         signed_text(interval.low), signed_text(interval.high));
        y += each;
    }
    if (rows.empty())
        write(scene, {0.5, top + 0.05}, "nothing to compare yet", Anchor::middle, Ink::quiet_text);
    for (const double tick : ticks(-reach, reach, 6))
        write(scene, {x(tick), bottom + 0.032}, signed_text(tick), Anchor::middle, Ink::quiet_text);
    write(scene, {0.04, bottom + 0.072}, "fewer goals", Anchor::start, Ink::quiet_text);
    write(scene, {x(0.0), bottom + 0.072}, "strip: not worth acting on", Anchor::middle, Ink::quiet_text);
    write(scene, {0.96, bottom + 0.072}, "more goals", Anchor::end, Ink::quiet_text);
    return scene;
}

Scene goal_chance_chart(const GoalChance& chance) {
    Scene scene;
    scene.height = 0.66;
    scene.title = "Goal chance against clearance, all else alike";
    Scale x{-1.0, 0.5, chart_left, chart_right}, y{0.0, 0.1, 0.53, 0.07};
    for (const auto* curve : {&chance.on_shots, &chance.on_passes})
        for (const ChanceAt& at : *curve) {
            x.low = std::min(x.low, at.clearance_m);
            x.high = std::max(x.high, at.clearance_m);
            y.high = std::max(y.high, std::min(0.8, at.chance.interval.high));
        }
    y.high = std::ceil(20.0 * y.high) / 20.0;
    add_curve(scene, chance.on_shots, x, y, Ink::shot_band);
    add_curve(scene, chance.on_passes, x, y, Ink::pass_band);
    add_series_words(scene, 0.035);
    add_share_axis(scene, y, "chance of a goal, with 95 %");
    line(scene, {x(0.0), 0.07}, {x(0.0), 0.53}, 0.003, Ink::quiet_text);
    for (const auto& [curve, ink, mark] : {std::tuple{&chance.on_shots, Ink::shot, Shape::disc},
                                           {&chance.on_passes, Ink::pass, Shape::diamond}}) {
        SceneStroke stroke{{}, thick, ink}, low{{}, thin, ink}, high{{}, thin, ink};
        const auto add = [&](SceneStroke& to, const ChanceAt& at, double share) {
            to.points.push_back({x(at.clearance_m), y(std::min(share, y.high))});
        };
        for (const ChanceAt& at : *curve) {
            add(stroke, at, at.chance.value);
            add(low, at, at.chance.interval.low);
            add(high, at, at.chance.interval.high);
        }
        if (stroke.points.size() < 2) continue;
        scene.items.emplace_back(low); // the other's band may hide its own
        scene.items.emplace_back(high);
        for (std::size_t i = 0; i < stroke.points.size(); i += 10)
            shape(scene, stroke.points[i], mark, ink);
        scene.items.emplace_back(stroke);
    }
    for (const double tick : ticks(x.low, x.high))
        write(scene, {x(tick), 0.565}, std::abs(tick) < 1e-9 ? "0" : fmt::format("{:+.1f}", tick),
              Anchor::middle, Ink::quiet_text);
    write(scene, {0.5 * (chart_left + chart_right), 0.61},
          "metres from the crease's edge along the puck line", Anchor::middle, Ink::quiet_text);
    write(scene, {0.5 * (chart_left + chart_right), 0.645}, "- inside the paint, + outside", Anchor::middle,
          Ink::quiet_text);
    scene.description = fmt::format("Chance of a goal by clearance on clear shots and on passes with 95 % "
                                    "bands, over {} attempts and {} goals.",
                                    chance.attempts, chance.goals);
    return scene;
}

} // namespace ropeline
