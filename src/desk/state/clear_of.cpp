#include "desk/state/clear_of.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

std::vector<KeptClear> kept_clear_of(const Moment& moment) {
    constexpr double skate_m = 0.30, both_skates_m = 0.55, puck_m = 0.22, receiver_m = 0.40;
    std::vector<KeptClear> all;
    for (const Mark& mark : moment.marks) {
        if (!mark.ice) continue;
        const double radius_m = mark.kind == MarkKind::puck     ? puck_m
                                : mark.kind == MarkKind::threat ? receiver_m
                                : mark.kind == MarkKind::goalie ? both_skates_m
                                                                : skate_m;
        all.push_back({*mark.ice, radius_m});
    }
    return all;
}

std::vector<std::pair<double, double>> clear_stretches(IcePoint from, IcePoint to,
                                                       std::span<const KeptClear> kept_clear) {
    const double whole = distance(from, to);
    if (!(whole > 0.0)) return {};
    const IcePoint along = (to - from) * (1.0 / whole);
    std::vector<std::pair<double, double>> hidden;
    for (const KeptClear& one : kept_clear) {
        const double foot = dot(one.at - from, along);
        const double beside = distance(from + along * foot, one.at);
        if (beside >= one.radius_m) continue;
        const double half = std::sqrt(one.radius_m * one.radius_m - beside * beside);
        hidden.emplace_back(foot - half, foot + half);
    }
    std::ranges::sort(hidden);
    std::vector<std::pair<double, double>> clear;
    double begin = 0.0;
    for (const auto& [first, last] : hidden) {
        if (first > begin) clear.emplace_back(begin, std::min(first, whole));
        begin = std::max(begin, last);
        if (begin >= whole) return clear;
    }
    clear.emplace_back(begin, whole);
    return clear;
}

} // namespace ropeline
