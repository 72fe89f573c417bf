// The least value of a function of one number, and where it crosses a level.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>

namespace ropeline {

struct Least {
    double at = 0.0, value = 0.0;
};

/// Where the parabola through three points has its end; the middle of the outer two where it has none.
inline double vertex(Least a, Least b, Least c) {
    const double ab = (b.at - a.at) * (b.value - c.value), cb = (b.at - c.at) * (b.value - a.value);
    const double bend = ab - cb;
    if (std::abs(bend) < 1e-15) return (a.at + c.at) / 2.0;
    return b.at - ((b.at - a.at) * ab - (b.at - c.at) * cb) / (2.0 * bend);
}

/// The least value around the lowest of some places already looked at, in their order: parabolas with golden
/// steps where they fail (Brent 1973, "Algorithms for Minimization without Derivatives", ch. 5), until the
/// place is known to `within`. An end that the curve falls towards is taken as it is.
template <class Function>
Least least_near(Function f, std::span<const Least> looks, std::size_t best, double within) {
    constexpr double golden = 0.3819660112501051;
    if (looks.size() < 3) return looks[best];
    const bool first = best == 0, last = best + 1 == looks.size();
    const std::size_t middle_look = first ? 1 : last ? best - 1 : best;
    const Least &before = looks[middle_look - 1], &between = looks[middle_look],
                &after = looks[middle_look + 1];
    Least x = looks[best];
    if (first || last) { // is it the end itself?
        const auto beside = [&](double share) {
            const double at = looks[best].at + (between.at - looks[best].at) * share;
            return Least{at, f(at)};
        };
        if (beside(0.04).value >= x.value) {
            x = beside(0.5); // the end may lie beyond a step at the foot of a slope
            if (x.value >= looks[best].value) return looks[best];
        }
    }
    double low = first ? before.at : last ? between.at : before.at;
    double high = first ? between.at : last ? after.at : after.at;
    Least w = first ? between : last ? between : before, v = first ? after : before;
    if (!first && !last) {
        v = after;
        if (v.value < w.value) std::swap(v, w);
    }
    double step = high - low, before_step = high - low;
    for (int turn = 0; turn < 40; ++turn) {
        const double middle = (low + high) / 2.0;
        if (std::abs(x.at - middle) <= 2.0 * within - (high - low) / 2.0) break;
        const double at = w.at == v.at || w.at == x.at || v.at == x.at ? x.at : vertex(w, x, v);
        const double jump = at - x.at;
        const bool inside = at > low && at < high && std::abs(jump) < std::abs(before_step) / 2.0;
        before_step = step;
        if (inside && jump != 0.0) {
            step = jump;
        } else {
            before_step = x.at < middle ? high - x.at : low - x.at;
            step = golden * before_step;
        }
        if (std::abs(step) < within) step = x.at < middle ? within : -within;
        const Least u{x.at + step, f(x.at + step)};
        if (u.value <= x.value) {
            (u.at < x.at ? high : low) = x.at;
            v = w, w = x, x = u;
        } else {
            (u.at < x.at ? low : high) = u.at;
            if (u.value <= w.value)
                v = w, w = u;
            else if (u.value <= v.value)
                v = u;
        }
    }
    return x;
}

/// Where f, at or below `level` at `inside` and above it at `outside`, crosses it, to `within` or to `near_level` of
/// the level: secants with
/// the Illinois step (Dowell, Jarratt 1971), every third turn halved.
template <class Function>
double crossing(Function f, double level, Least inside, Least outside, double within, double near_level) {
    double a = inside.at, above_a = inside.value - level, b = outside.at, above_b = outside.value - level;
    for (int turn = 1; turn <= 40 && std::abs(b - a) > within; ++turn) {
        const double share = turn % 3 == 0 || !(above_b > above_a) ? 0.5 : above_a / (above_a - above_b);
        const double c = a + (b - a) * share;
        const double above = f(c) - level;
        if (std::abs(above) < near_level) return c;
        if (above < 0.0) {
            a = c, above_a = above, above_b /= 2.0;
        } else {
            b = c, above_b = above, above_a /= 2.0;
        }
    }
    return a;
}

} // namespace ropeline
