#include "depth/flip.h"

#include <algorithm>
#include <optional>

namespace ropeline {
namespace {

/// The first change of the verdict on the way from the value in force to `end`.
std::optional<Flip> flip_towards(double end, std::string_view key, Verdict verdict,
                                 const MarkedMoment& moment, const RuleBook& rules, Parameters parameters) {
    const double start = parameter(parameters, key).value();
    if (start == end) return std::nullopt;
    const auto verdict_at = [&](double share) {
        set_parameter(parameters, key, start + (end - start) * share);
        return decide(moment, rules, parameters).verdict;
    };
    constexpr int steps = 16;
    for (int step = 1; step <= steps; ++step) {
        double there = static_cast<double>(step) / steps;
        Verdict becomes = verdict_at(there);
        if (becomes == verdict) continue;
        double here = static_cast<double>(step - 1) / steps;
        while (there - here > 1e-6) {
            const double middle = (here + there) / 2.0;
            const Verdict between = verdict_at(middle);
            if (between == verdict) {
                here = middle;
            } else {
                there = middle;
                becomes = between;
            }
        }
        return Flip{key, start + (end - start) * there, becomes, there};
    }
    return std::nullopt;
}

} // namespace

std::vector<Flip> find_flips(const MarkedMoment& moment, const RuleBook& rules, const Parameters& parameters,
                             Level level) {
    std::vector<Flip> flips;
    const Verdict verdict = decide(moment, rules, parameters).verdict;
    if (verdict == Verdict::not_judged) return flips;
    for (const ParameterFact& fact : parameter_facts()) {
        if (!fact.stated) continue;
        const ParameterRange range = fact.stated->at(static_cast<std::size_t>(level));
        const double value = parameter(parameters, fact.key).value();
        for (const double end : {range.low, range.high}) {
            if ((end == range.low && value < end) || (end == range.high && value > end)) continue;
            if (const auto flip = flip_towards(end, fact.key, verdict, moment, rules, parameters))
                flips.push_back(*flip);
        }
    }
    std::ranges::sort(flips, {}, &Flip::share);
    return flips;
}

} // namespace ropeline
