// What was given away, the season game by game, and two reviews side by side.
#include "sheet/chart_parts.h"
#include "sheet/counted.h"
#include "sheet/season_charts.h"
#include "sheet/share_words.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

using namespace chart;

double share_of(Share share) {
    return static_cast<double>(share.hits) / share.of;
}

void add_game_axis(Scene& scene, const OverGames& over, const Scale& x, double y) {
    const auto& games = over.games;
    write(scene, {x(0.0), y}, games.front().date.empty() ? "first game" : games.front().date, Anchor::start,
          Ink::quiet_text);
    if (games.size() > 1)
        write(scene, {x.to, y}, games.back().date.empty() ? "last game" : games.back().date, Anchor::end,
              Ink::quiet_text);
}

constexpr std::size_t most_dots = 60; ///< more than that run into one another

/// A game, or so many of them that follow one another.
struct Dot {
    std::string when;
    Share goals;
    double nets_a_game = 0.0;
    int plays = 0;
};

std::size_t games_a_dot(const OverGames& over) {
    return std::max<std::size_t>(1, (over.games.size() + most_dots - 1) / most_dots);
}

std::vector<Dot> dots_of(const std::vector<GameLine>& games, std::size_t each) {
    std::vector<Dot> dots;
    for (std::size_t from = 0; from < games.size(); from += each) {
        const std::size_t to = std::min(games.size(), from + each);
        Dot dot;
        for (std::size_t i = from; i < to; ++i) {
            const Share goals = games[i].counts.goals_of_unblocked();
            dot.goals.hits += goals.hits;
            dot.goals.of += goals.of;
            dot.nets_a_game += games[i].given_away.sum / static_cast<double>(to - from);
            dot.plays += games[i].given_away.plays;
        }
        const std::string &first = games[from].date, &last = games[to - 1].date;
        dot.when = first.empty()   ? "without a date"
                   : first == last ? first
                                   : fmt::format("{} to {}", first, last);
        dots.push_back(dot);
    }
    return dots;
}

/// The pointer finds a game at its dot and at its column.
void add_game_marks(Scene& scene, const Dot& dot, double x, const Scale& share, const Scale& given) {
    const std::string words =
        fmt::format("{}\nunblocked attempts went in: {}\n{:.2f} nets given away a game, over {} plays",
                    dot.when, share_words(dot.goals), dot.nets_a_game, dot.plays);
    if (dot.goals.of > 0) stands_for(scene, {x, share(share_of(dot.goals))}, words);
    if (dot.plays > 0)
        for (const double part : {0.0, 0.5, 1.0})
            stands_for(scene, {x, given(part * dot.nets_a_game)}, words);
}

void add_dot(Scene& scene, const Dot& dot, double x, const Scale& share) {
    if (dot.goals.of == 0) return;
    const Interval interval = wilson(dot.goals.hits, dot.goals.of);
    line(scene, {x, share(interval.low)}, {x, share(std::min(interval.high, share.high))}, 0.004, Ink::rule);
    if (interval.high > share.high) // it goes on beyond the picture
        shape(scene, {x, share(share.high)}, Shape::triangle, Ink::rule, true, 0.018);
    shape(scene, {x, share(share_of(dot.goals))}, Shape::disc, Ink::goal, true,
          std::clamp(0.008 * std::sqrt(dot.goals.of), 0.012, 0.03));
}

/// How high the dots and the columns go.
struct DotReach {
    double share = 0.1, nets = 0.1;
};

DotReach reach_of(const std::vector<Dot>& dots) {
    DotReach reach;
    for (const Dot& dot : dots) {
        if (dot.goals.of > 0) reach.share = std::max(reach.share, share_of(dot.goals));
        if (dot.goals.of >= 10)
            reach.share = std::max(reach.share, wilson(dot.goals.hits, dot.goals.of).high);
        reach.nets = std::max(reach.nets, dot.nets_a_game);
    }
    return reach;
}

void add_trend_axes(Scene& scene, const Scale& share, const Scale& given, std::size_t each) {
    write(scene, {0.12, 0.035},
          each == 1 ? "goals of unblocked attempts, with 95 %; the line is all games"
                    : fmt::format("goals of unblocked attempts, {} games a dot; the line is all games", each),
          Anchor::start, Ink::text, small_size, true);
    write(scene, {0.12, 0.38}, each == 1 ? "whole nets given away" : "whole nets given away a game",
          Anchor::start, Ink::text, small_size, true);
    for (const double tick : ticks(0.0, share.high, 3)) {
        line(scene, {0.12, share(tick)}, {0.96, share(tick)});
        write(scene, {0.108, share(tick) + 0.009}, two_digits(tick), Anchor::end, Ink::quiet_text);
    }
    for (const double tick : ticks(0.0, given.high, 2)) {
        line(scene, {0.12, given(tick)}, {0.96, given(tick)});
        write(scene, {0.108, given(tick) + 0.009}, fmt::format("{:g}", tick), Anchor::end, Ink::quiet_text);
    }
}

} // namespace

Scene given_away_chart(const OverGames& over, const OverGames* beside) {
    Scene scene;
    scene.title = "Net given away a play, by situation";
    double reach = 0.02;
    for (const OverGames* side : {&over, beside ? beside : &over})
        for (const GivenAway& one : side->by_situation)
            reach = std::max({reach, one.mean, one.mean_interval ? one.mean_interval->high : 0.0});
    const Scale x{0.0, reach, 0.27, 0.58};
    const double top = 0.04, each = 0.075;
    double y = top;
    scene.description = "Net left open more than from the best spot, a play.";
    for (const GivenAway& one : over.by_situation) {
        write(scene, {0.25, y + 0.038}, one.label, Anchor::end, Ink::text, text_size);
        box(scene, {x(0.0), y + 0.012}, {x(std::max(0.0, one.mean)), y + 0.046}, Ink::pass_band);
        if (one.mean_interval)
            level_whisker(scene, y + 0.029, x(std::max(0.0, one.mean_interval->low)),
                          x(std::max(0.0, one.mean)), x(one.mean_interval->high), Shape::square, Ink::other);
        const std::string words =
            fmt::format("{}, {} play{}", given_away_words(one), one.plays, one.plays == 1 ? "" : "s");
        write(scene, {0.97, y + 0.038}, words, Anchor::end, Ink::quiet_text, 0.024);
        scene.description += fmt::format(" {}: {}.", one.label, words);
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

Scene trend_chart(const OverGames& over, const OverGames* beside) {
    Scene scene;
    scene.height = 0.62;
    scene.title = "Game by game";
    scene.description =
        fmt::format("Goals of unblocked attempts and nets given away in {} games.", over.games.size());
    if (over.games.empty()) {
        write(scene, {0.5, 0.3}, "no game yet", Anchor::middle, Ink::quiet_text);
        return scene;
    }
    const std::size_t each = games_a_dot(over);
    const std::vector<Dot> dots = dots_of(over.games, each);
    const Scale x{0.0, std::max(1.0, static_cast<double>(dots.size()) - 1.0), 0.15, 0.94};
    Share all;
    for (const Dot& dot : dots) {
        all.hits += dot.goals.hits;
        all.of += dot.goals.of;
    }
    DotReach reach = reach_of(dots);
    if (beside) {
        const DotReach other = reach_of(dots_of(beside->games, games_a_dot(*beside)));
        reach = {std::max(reach.share, other.share), std::max(reach.nets, other.nets)};
    }
    const Scale share{0.0, std::min(1.0, std::ceil(10.0 * reach.share) / 10.0), 0.30, 0.06},
        given{0.0, reach.nets, 0.54, 0.40};
    add_trend_axes(scene, share, given, each);
    if (all.of > 0) {
        const double middle = share(share_of(all));
        line(scene, {0.12, middle}, {0.96, middle}, 0.004, Ink::quiet_text);
    }
    const double half = std::min(0.015, 0.35 * 0.84 / static_cast<double>(dots.size()));
    for (std::size_t i = 0; i < dots.size(); ++i) {
        const double at = x(static_cast<double>(i));
        add_dot(scene, dots[i], at, share);
        if (dots[i].plays > 0)
            box(scene, {at - half, given(dots[i].nets_a_game)}, {at + half, given(0.0)}, Ink::other);
        add_game_marks(scene, dots[i], at, share, given);
    }
    add_game_axis(scene, over, x, 0.585);
    return scene;
}

Scene agreement_chart(const ReviewAgreement& agreement) {
    Scene scene;
    scene.height = 0.62;
    scene.title = "Two reviews: depth of the first less the second, in metres";
    scene.description = fmt::format("{} with a depth in both.",
                                    counted(static_cast<std::int64_t>(agreement.depths_m.size()), "shot"));
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
