// How far out the goalie can be: as far as every pass still allows, within the season's caps.
#pragma once

#include "depth/cues.h"
#include "depth/threat.h"

#include <cstddef>
#include <optional>
#include <span>

namespace ropeline {

/// What stopped the advised depth from being greater.
enum class Limit {
    cap,          ///< the situation's cap: nothing else holds the goalie back
    conservative, ///< a likely pass or a rebound: no further out than the conservative band
    home,         ///< puck at or beyond the red line
    pass,         ///< a pass that could not be reached from further out
    defensive     ///< a pass asks for less still: the defensive depth
};

struct Advice {
    double depth_m = 0.0; ///< D*
    double cap_m = 0.0;   ///< as far out as the situation allows, whatever the passes
    Limit limit = Limit::cap;
    std::optional<std::size_t> threat; ///< the one that limits, for Limit::pass and Limit::defensive
};

/// Far end of the conservative band on this puck line: c(u) - base half width, never under the defensive
/// depth.
double conservative_edge_m(IcePoint puck, const RuleBook& rules, const Parameters& parameters);

/// D* = min over the threats of d_i*, never above the cap, never under the defensive depth.
/// In      situation none: zone play is assumed.
/// Notes   likely shot: threats whose pass is not open are left out. Likely pass, and any rebound: the cap is
///         no further out than the conservative band. Puck at or beyond the red line: home position, whatever
///         else is said.
Advice advise(IcePoint puck, std::span<const Threat> threats, std::optional<Situation> situation,
              Likelihood likelihood, const RuleBook& rules, const Parameters& parameters);

std::string_view key_of(Limit value);
std::optional<Limit> limit_from_key(std::string_view key);

} // namespace ropeline
