#include "depth/advice.h"

#include "rink/crease.h"

#include <algorithm>
#include <array>

namespace ropeline {
namespace {

constexpr std::array<std::string_view, 5> limit_keys{"cap", "conservative", "home", "pass", "defensive"};

double cap_m(Situation situation, const Parameters& parameters) {
    return parameters.cap_m.at(static_cast<std::size_t>(situation));
}

} // namespace

double conservative_edge_m(IcePoint puck, const RuleBook& rules, const Parameters& parameters) {
    return std::max(crease_edge_m(rules, puck_line(puck)) - parameters.base_half_width_m,
                    parameters.defensive_depth_m);
}

Advice advise(IcePoint puck, std::span<const Threat> threats, std::optional<Situation> situation,
              Likelihood likelihood, const RuleBook& rules, const Parameters& parameters) {
    Advice advice;
    if (puck.y_m >= rules.red_line_centre.m) {
        advice.limit = Limit::home;
        advice.cap_m = advice.depth_m =
            std::max(cap_m(Situation::neutral_ice, parameters), parameters.defensive_depth_m);
        return advice;
    }
    const Situation played = situation.value_or(Situation::zone);
    advice.cap_m = cap_m(played, parameters);
    if (likelihood == Likelihood::pass || played == Situation::rebound) {
        const double edge = conservative_edge_m(puck, rules, parameters);
        if (edge < advice.cap_m || played == Situation::rebound) advice.limit = Limit::conservative;
        advice.cap_m = std::min(advice.cap_m, edge);
    }
    advice.cap_m = std::max(advice.cap_m, parameters.defensive_depth_m);
    advice.depth_m = advice.cap_m;
    for (std::size_t i = 0; i < threats.size(); ++i) {
        if (likelihood == Likelihood::shot && !threats[i].open) continue;
        const std::optional<double> reach = reach_depth_m(threats[i], puck, parameters);
        if (!reach || *reach >= advice.depth_m) continue;
        advice.depth_m = *reach;
        advice.limit = Limit::pass;
        advice.threat = i;
    }
    if (advice.depth_m < parameters.defensive_depth_m) {
        advice.depth_m = parameters.defensive_depth_m;
        advice.limit = Limit::defensive;
    }
    return advice;
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
