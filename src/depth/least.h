// Inside src/depth: the least value of a function of one number, and where it crosses a level.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace ropeline {

struct Least {
    double at = 0.0, value = 0.0;
};

/// Golden section with parabolic steps (Brent 1973, "Algorithms for Minimization without Derivatives", ch. 5)
/// inside [low, high], which holds one lowest point, until it is known to `within`.
template <class Function>
Least least_inside(Function f, double low, double high, double within) {
    constexpr double golden = 0.3819660112501051;
    double x = low + golden * (high - low), w = x, v = x;
    double fx = f(x), fw = fx, fv = fx;
    double step = 0.0, before = 0.0;
    for (int turn = 0; turn < 60; ++turn) {
        const double middle = (low + high) / 2.0;
        if (std::abs(x - middle) <= 2.0 * within - (high - low) / 2.0) break;
        bool parabola = false;
        if (std::abs(before) > within) {
            const double r = (x - w) * (fx - fv);
            double q = (x - v) * (fx - fw);
            double p = (x - v) * q - (x - w) * r;
            q = 2.0 * (q - r);
            if (q > 0.0) p = -p;
            q = std::abs(q);
            if (std::abs(p) < std::abs(q * before / 2.0) && p > q * (low - x) && p < q * (high - x)) {
                before = step;
                step = p / q;
                parabola = true;
                if (x + step - low < 2.0 * within || high - x - step < 2.0 * within)
                    step = x < middle ? within : -within;
            }
        }
        if (!parabola) {
            before = x < middle ? high - x : low - x;
            step = golden * before;
        }
        const double u = x + (std::abs(step) >= within ? step : (step > 0.0 ? within : -within));
        const double fu = f(u);
        if (fu <= fx) {
            (u < x ? high : low) = x;
            v = w, fv = fw, w = x, fw = fx, x = u, fx = fu;
        } else {
            (u < x ? low : high) = u;
            if (fu <= fw || w == x) {
                v = w, fv = fw, w = u, fw = fu;
            } else if (fu <= fv || v == x || v == w) {
                v = u, fv = fu;
            }
        }
    }
    return {x, fx};
}

/// Where f, at or below `level` at `inside` and above it at `outside`, crosses it, to `within`: secants with
/// the Illinois step (Dowell, Jarratt 1971), every third turn halved.
template <class Function>
double crossing(Function f, double level, Least inside, Least outside, double within) {
    double a = inside.at, above_a = inside.value - level, b = outside.at, above_b = outside.value - level;
    for (int turn = 1; turn <= 40 && std::abs(b - a) > within; ++turn) {
        const double share = turn % 3 == 0 || !(above_b > above_a) ? 0.5 : above_a / (above_a - above_b);
        const double c = a + (b - a) * share;
        const double above = f(c) - level;
        if (std::abs(above) < 1e-7) return c;
        if (above < 0.0) {
            a = c, above_a = above, above_b /= 2.0;
        } else {
            b = c, above_b = above, above_a /= 2.0;
        }
    }
    return a;
}

} // namespace ropeline
