// What was given away, the season game by game, and two reviews side by side.
#include "sheet/chart_parts.h"
#include "sheet/season_charts.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

using namespace chart;

std::string per_cent(double share) {
    return fmt::format("{:.1f} %", 100.0 * share);
}

double share_of(Share share) {
    return static_cast<double>(share.hits) / share.of;
}

void add_game_axis(Scene& scene, const OverGames& over, const Scale& x, double y) {
    const auto& games = over.games;
    write(scene, {x(0.0), y}, games.front().date.empty() ? "first game" : games.front().date, Anchor::start,
          Ink::quiet_text);
    if (games.size() > 1)
        write(scene, {x(static_cast<double>(games.size()) - 1.0), y},
              games.back().date.empty() ? "last game" : games.back().date, Anchor::end, Ink::quiet_text);
}

/// The pointer finds a game at its dot and at its column.
void add_game_marks(Scene& scene, const GameLine& game, double x, const Scale& share, const Scale& given) {
    const Share goals = game.counts.goals_of_unblocked();
    const std::string words =
        fmt::format("{}: {} of {} unblocked attempts went in; {:.2f} nets given away over {} plays",
                    game.date.empty() ? "a game without a date" : game.date, goals.hits, goals.of,
                    game.given_away.sum, game.given_away.plays);
    if (goals.of > 0) stands_for(scene, {x, share(share_of(goals))}, words);
    if (game.given_away.plays > 0)
        for (const double part : {0.0, 0.5, 1.0})
            stands_for(scene, {x, given(part * game.given_away.sum)}, words);
}

} // namespace

Scene given_away_chart(const OverGames& over) {
    Scene scene;
    scene.title = "Net given away a play, by situation";
    double reach = 0.02;
    for (const GivenAway& one : over.by_situation)
        reach = std::max({reach, one.mean, one.mean_interval ? one.mean_interval->high : 0.0});
    const Scale x{0.0, reach, 0.27, 0.72};
    const double top = 0.04, each = 0.075;
    double y = top;
    scene.description = "Net left open more than from the best spot, a play.";
    for (const GivenAway& one : over.by_situation) {
        write(scene, {0.25, y + 0.038}, one.label, Anchor::end, Ink::text, text_size);
        box(scene, {x(0.0), y + 0.012}, {x(std::max(0.0, one.mean)), y + 0.046}, Ink::pass_band);
        if (one.mean_interval)
            level_whisker(scene, y + 0.029, x(std::max(0.0, one.mean_interval->low)),
                          x(std::max(0.0, one.mean)), x(one.mean_interval->high), Shape::square, Ink::other);
        write(scene, {0.97, y + 0.038}, fmt::format("{}, {} plays", per_cent(one.mean), one.plays),
              Anchor::end, Ink::quiet_text);
        scene.description += fmt::format(" {}: {} over {} plays.", one.label, per_cent(one.mean), one.plays);
        y += each;
    }
    if (over.by_situation.empty()) {
        write(scene, {0.5, y + 0.04}, "no play with advice to compare with yet", Anchor::middle,
              Ink::quiet_text);
        y += each;
    }
    line(scene, {x(0.0), top}, {x(0.0), y}, 0.003, Ink::quiet_text);
    write(scene, {0.97, y + 0.035},
          fmt::format("share of the net, with 95 %; {:.2f} whole nets a game", over.nets_a_game), Anchor::end,
          Ink::quiet_text);
    scene.height = y + 0.06;
    return scene;
}

Scene trend_chart(const OverGames& over) {
    Scene scene;
    scene.height = 0.62;
    scene.title = "Game by game";
    scene.description =
        fmt::format("Goals of unblocked attempts and nets given away in {} games.", over.games.size());
    if (over.games.empty()) {
        write(scene, {0.5, 0.3}, "no game yet", Anchor::middle, Ink::quiet_text);
        return scene;
    }
    const Scale x{0.0, std::max(1.0, static_cast<double>(over.games.size()) - 1.0), 0.15, 0.94};
    double most = 0.1, nets = 0.1;
    Share all;
    for (const GameLine& game : over.games) {
        const Share goals = game.counts.goals_of_unblocked();
        if (goals.of > 0) most = std::max(most, share_of(goals));
        if (goals.of >= 10) most = std::max(most, wilson(goals.hits, goals.of).high);
        nets = std::max(nets, game.given_away.sum);
        all.hits += goals.hits;
        all.of += goals.of;
    }
    const Scale share{0.0, std::min(1.0, std::ceil(10.0 * most) / 10.0), 0.30, 0.06},
        given{0.0, nets, 0.54, 0.40};
    write(scene, {0.12, 0.035}, "goals of unblocked attempts, with 95 %; the line is all games",
          Anchor::start, Ink::text, small_size, true);
    write(scene, {0.12, 0.38}, "nets given away", Anchor::start, Ink::text, small_size, true);
    for (const double tick : ticks(0.0, share.high, 3)) {
        line(scene, {0.12, share(tick)}, {0.96, share(tick)});
        write(scene, {0.108, share(tick) + 0.009}, fmt::format("{:.2f}", tick).substr(tick < 1.0 ? 1 : 0),
              Anchor::end, Ink::quiet_text);
    }
    for (const double tick : ticks(0.0, nets, 2)) {
        line(scene, {0.12, given(tick)}, {0.96, given(tick)});
        write(scene, {0.108, given(tick) + 0.009}, fmt::format("{:g}", tick), Anchor::end, Ink::quiet_text);
    }
    if (all.of > 0) {
        const double middle = share(share_of(all));
        line(scene, {0.12, middle}, {0.96, middle}, 0.004, Ink::quiet_text);
    }
    const double half = std::min(0.015, 0.35 * 0.84 / static_cast<double>(over.games.size()));
    for (std::size_t i = 0; i < over.games.size(); ++i) {
        const GameLine& game = over.games[i];
        const double at = x(static_cast<double>(i));
        if (const Share goals = game.counts.goals_of_unblocked(); goals.of > 0) {
            const Interval interval = wilson(goals.hits, goals.of);
            line(scene, {at, share(interval.low)}, {at, share(std::min(interval.high, share.high))}, 0.004,
                 Ink::rule);
            shape(scene, {at, share(share_of(goals))}, Shape::disc, Ink::goal, true,
                  std::clamp(0.008 * std::sqrt(goals.of), 0.012, 0.03));
        }
        if (game.given_away.plays > 0)
            box(scene, {at - half, given(game.given_away.sum)}, {at + half, given(0.0)}, Ink::other);
        add_game_marks(scene, game, at, share, given);
    }
    add_game_axis(scene, over, x, 0.585);
    return scene;
}

Scene agreement_chart(const ReviewAgreement& agreement) {
    Scene scene;
    scene.height = 0.62;
    scene.title = "Two reviews: depth of the first less the second";
    scene.description = fmt::format("{} shots with a depth in both.", agreement.depths_m.size());
    if (!agreement.depth_m) {
        write(scene, {0.5, 0.3}, "too few shots with a depth in both", Anchor::middle, Ink::quiet_text);
        return scene;
    }
    const LimitsOfAgreement& limits = *agreement.depth_m;
    Scale x{9.0, -9.0, 0.12, 0.80}, y{-0.1, 0.1, 0.50, 0.05};
    for (const auto& [first, second] : agreement.depths_m) {
        x.low = std::min(x.low, 0.5 * (first + second) - 0.1);
        x.high = std::max(x.high, 0.5 * (first + second) + 0.1);
        y.high = std::max(y.high, std::abs(first - second));
    }
    y.high = 1.1 * std::max({y.high, std::abs(limits.low_interval.low), std::abs(limits.high_interval.high)});
    y.low = -y.high;
    box(scene, {0.12, y(limits.limits.high)}, {0.80, y(limits.limits.low)}, Ink::shot_band);
    for (const double tick : ticks(y.low, y.high)) {
        line(scene, {0.12, y(tick)}, {0.80, y(tick)});
        write(scene, {0.108, y(tick) + 0.009}, fmt::format("{:+.2f}", tick), Anchor::end, Ink::quiet_text);
    }
    for (const auto& [value, words] : {std::pair{limits.mean, "mean"},
                                       {limits.limits.low, "lower 95 %"},
                                       {limits.limits.high, "upper 95 %"}}) {
        line(scene, {0.12, y(value)}, {0.80, y(value)}, 0.004, Ink::shot);
        write(scene, {0.81, y(value) + 0.009}, fmt::format("{} {:+.2f}", words, value), Anchor::start,
              Ink::text, 0.024);
    }
    for (std::size_t i = 0; i < agreement.depths_m.size(); ++i) {
        const auto& [first, second] = agreement.depths_m[i];
        const ScenePoint at{x(0.5 * (first + second)), y(first - second)};
        shape(scene, at, Shape::ring, Ink::pass, false, 0.018);
        stands_for_shot(scene, at, agreement.depth_shots.at(i));
    }
    for (const double tick : ticks(x.low, x.high))
        write(scene, {x(tick), 0.535}, fmt::format("{:.1f}", tick), Anchor::middle, Ink::quiet_text);
    write(scene, {0.46, 0.585}, "metres out, mean of both", Anchor::middle, Ink::quiet_text);
    return scene;
}

} // namespace ropeline
