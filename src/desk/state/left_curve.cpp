#include "desk/state/left_curve.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

constexpr int steps = 48;
constexpr double beyond_m = 0.8; ///< shown beyond the furthest out, where a goalie too far out stands

/// The way to a receiver's line first shortens and then grows along the puck line, so the places from which it is
/// covered in time lie together.
void find_furthest_that_works(const Receiver& receiver, const Play& play, double to_m,
                              LeftCurve::Pass& pass) {
    const IcePoint line = play.shooter.line;
    const auto in_time = [&](double out_m) {
        return read_threat(receiver, line * out_m, play.blocking).late_s <= 0.0;
    };
    pass.works_anywhere = in_time(to_m);
    if (pass.works_anywhere) {
        pass.works_m = to_m;
        return;
    }
    double outside = to_m;
    for (int step = steps - 1; step >= 0 && !pass.works_m; --step) {
        const double out_m = to_m * step / steps;
        if (in_time(out_m)) {
            pass.works_m = out_m;
        } else {
            outside = out_m;
        }
    }
    if (!pass.works_m) return;
    constexpr double near_enough_m = 0.005;
    while (outside - *pass.works_m > near_enough_m) {
        const double middle = 0.5 * (outside + *pass.works_m);
        (in_time(middle) ? *pass.works_m : outside) = middle;
    }
}

} // namespace

LeftCurve left_curve(const PlayMarks& marks, const Advice& advice, const RuleBook& rules,
                     const Parameters& parameters) {
    const Play play = play_of(marks, rules, parameters);
    const double to_m =
        std::min(advice.furthest_m + beyond_m, std::max(advice.furthest_m, play.shooter.far_m));
    LeftCurve curve;
    curve.places = left_along_line(play, to_m, steps);
    for (std::size_t index = 0; index < play.marked; ++index) {
        LeftCurve::Pass pass;
        pass.chance = play.chances[index];
        for (const CurvePoint& place : curve.places)
            pass.open.push_back(
                open_after_push(play.threats[index], play.shooter.line * place.out_m, play.blocking));
        find_furthest_that_works(play.threats[index], play, to_m, pass);
        curve.passes.push_back(std::move(pass));
    }
    return curve;
}

} // namespace ropeline
