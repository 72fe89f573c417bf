#include "depth/advice.h"

#include "depth/least.h"
#include "depth/reading.h"
#include "rink/crease.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <span>
#include <utility>

namespace ropeline {
namespace {

constexpr std::array<std::string_view, 6> limit_keys{"pass",         "gap",  "situation",
                                                     "inside_paint", "home", "flat"};
constexpr double within_m = 0.002, near_level = 5e-5;
constexpr double home_grows_over_m = 1.0;

/// The stretch around the lowest point, on a curve first looked at every `look_m` or so.
constexpr double look_m = 0.25;
constexpr double near_hump = 0.02; ///< beside a look nearer to the level than this there may be a hump

struct Curve {
    std::array<Least, 34> looks{};
    std::size_t count = 0, best = 0;
};

template <class Function>
Curve look_along(Function left_at, double furthest_m) {
    Curve curve;
    const double steps = std::clamp(std::ceil(furthest_m / look_m), 8.0, 32.0);
    curve.count = static_cast<std::size_t>(steps) + 1;
    for (std::size_t i = 0; i < curve.count; ++i) {
        const double out_m = furthest_m * static_cast<double>(i) / steps;
        curve.looks.at(i) = {out_m, left_at(out_m)};
        if (curve.looks.at(i).value < curve.looks.at(curve.best).value) curve.best = i;
    }
    return curve;
}

/// Around each look that lies lower than its neighbours, as far as a valley between looks may make up for it.
template <class Function>
Least lowest_on(Function left_at, const Curve& curve) {
    constexpr double deepest_valley = 0.1;
    const std::span looks = std::span{curve.looks}.first(curve.count);
    Least least = looks[curve.best];
    for (std::size_t i = 0; i < looks.size(); ++i) {
        const bool falls = i > 0 && looks[i - 1].value <= looks[i].value;
        const bool rises = i + 1 < looks.size() && looks[i + 1].value < looks[i].value;
        if (falls || rises || looks[i].value > looks[curve.best].value + deepest_valley) continue;
        const Least here = least_near(left_at, looks, i, 0.01);
        if (here.value < least.value) least = here;
    }
    return least;
}

/// Does the way between two looks below the level lead over a hump? The last place before it and one on it.
template <class Function>
std::optional<std::pair<Least, Least>> hump_between(Function left_at, Least from, Least to, double level) {
    if (std::max(from.value, to.value) <= level - near_hump) return std::nullopt;
    const auto look = [&](double share) {
        const double at = from.at + (to.at - from.at) * share;
        return Least{at, left_at(at)};
    };
    const Least middle = look(0.5);
    if (middle.value > level) return std::pair{from, middle};
    if (middle.value <= level - near_hump / 2.0) return std::nullopt;
    if (const Least quarter = look(0.25); quarter.value > level) return std::pair{from, quarter};
    if (const Least quarter = look(0.75); quarter.value > level) return std::pair{middle, quarter};
    return std::nullopt;
}

/// From the lowest point on to where the curve rises above `level`, in the looks' order or against it.
template <class Function>
double end_of_stretch(Function left_at, const Curve& curve, Least least, double level, bool outwards) {
    Least inside = least;
    for (std::size_t i = 0; i < curve.count; ++i) {
        const Least& look = curve.looks.at(outwards ? i : curve.count - 1 - i);
        if (outwards ? look.at <= least.at : look.at >= least.at) continue;
        if (look.value > level) return crossing(left_at, level, inside, look, within_m, near_level);
        if (const auto over = hump_between(left_at, inside, look, level))
            return crossing(left_at, level, over->first, over->second, within_m, near_level);
        inside = look;
    }
    return inside.at;
}

/// What rises most from the best place to the outer end.
void blame_pass(const Play& play, Advice& advice) {
    const IcePoint line = play.shooter.line;
    const IcePoint best = line * advice.best_m;
    // A little beyond the end, where it matters: the end itself may be the best place.
    const IcePoint end = line * std::min(advice.to_m + 0.1, std::max(advice.furthest_m, advice.to_m));
    advice.limit = Limit::flat;
    double most = play.shot_chance * (shot_open(play, end) - shot_open(play, best));
    for (std::size_t i = 0; i < play.threats.size(); ++i) {
        if (!(play.chances[i] > 0.0)) continue;
        const double more = play.chances[i] * (open_after_push(play.threats[i], end, play.blocking) -
                                               open_after_push(play.threats[i], best, play.blocking));
        if (more <= most) continue;
        most = more;
        advice.limit = Limit::pass;
        advice.threat = i < play.marked ? std::optional{i} : std::nullopt;
    }
}

} // namespace

Furthest furthest_out(const PlayMarks& marks, const Play& play, const RuleBook& rules,
                      const Parameters& parameters) {
    Furthest furthest;
    furthest.out_m = furthest_on_line_m(marks.puck, marks.situation, rules, parameters);
    if (marks.likelihood == Likelihood::pass && play.counts < 1.0) {
        const double edge =
            std::max(0.0, crease_edge_m(rules, play.shooter.line) - parameters.base_half_width_m);
        if (edge < furthest.out_m) {
            furthest.out_m = edge + (furthest.out_m - edge) * play.counts;
            furthest.limit = Limit::inside_paint;
        }
    }
    const double blue = rules.blue_line_centre.m, red = rules.red_line_centre.m;
    const double on_the_way = std::clamp((marks.puck.y_m - blue) / (red - blue), 0.0, 1.0);
    if (on_the_way > 0.0) {
        furthest.out_m += (parameters.home_m - furthest.out_m) * on_the_way;
        furthest.limit = Limit::home;
    }
    furthest.allowed_m = furthest.out_m;
    const double gap = std::max(0.0, play.shooter.far_m - parameters.gap_m);
    if (gap < furthest.out_m) {
        furthest.out_m = gap;
        furthest.limit = Limit::gap;
    }
    return furthest;
}

Advice advise(const PlayMarks& marks, const Play& play, const RuleBook& rules, const Parameters& parameters) {
    const Furthest furthest = furthest_out(marks, play, rules, parameters);
    const IcePoint line = play.shooter.line;
    const auto left_at = [&](double out_m) { return net_left(play, line * out_m); };
    const Curve curve = look_along(left_at, furthest.out_m);
    const Least least = lowest_on(left_at, curve);
    const double level = least.value + parameters.worth;
    Advice advice;
    advice.best_m = least.at;
    advice.left_best = least.value;
    advice.furthest_m = furthest.out_m;
    advice.from_m = end_of_stretch(left_at, curve, least, level, false);
    advice.to_m = end_of_stretch(left_at, curve, least, level, true);
    advice.limit = furthest.limit;
    if (advice.to_m < furthest.out_m - within_m) blame_pass(play, advice);

    const double red = rules.red_line_centre.m;
    const double home = std::clamp((marks.puck.y_m - red) / home_grows_over_m + 1.0, 0.0, 1.0);
    if (home > 0.0) {
        advice.from_m -= advice.from_m * home;
        advice.to_m += (furthest.out_m - advice.to_m) * home;
        if (home >= 1.0) advice.limit = Limit::home, advice.threat.reset();
    }
    return advice;
}

std::vector<CurvePoint> left_along_line(const Play& play, double furthest_m, int steps) {
    const IcePoint line = play.shooter.line;
    std::vector<CurvePoint> curve;
    for (int i = 0; i <= steps; ++i) {
        const double out_m = furthest_m * i / steps;
        curve.push_back({out_m, net_left(play, line * out_m), shot_open(play, line * out_m)});
    }
    return curve;
}

std::string_view key_of(Limit value) {
    return limit_keys.at(static_cast<std::size_t>(value));
}
std::optional<Limit> limit_from_key(std::string_view key) {
    const auto found = std::ranges::find(limit_keys, key);
    if (found == limit_keys.end()) return std::nullopt;
    return static_cast<Limit>(found - limit_keys.begin());
}

} // namespace ropeline
