#include "depth/parameters.h"

#include <algorithm>

namespace ropeline {
namespace {

constexpr std::array<std::string_view, 4> level_keys{"youth", "junior", "senior", "elite"};
constexpr std::array<std::string_view, 6> situation_keys{"rush",    "zone",      "penalty_kill",
                                                         "rebound", "breakaway", "neutral_ice"};

constexpr std::string_view own_band =
    "own proposal on USA Hockey's positioning page, which names bands but no lengths";
constexpr std::string_view own_cap =
    "own proposal: where federations teach the skates to be at most, from the goal's middle";

constexpr std::array<ParameterRange, 4> ranges(ParameterRange youth, ParameterRange junior,
                                               ParameterRange senior, ParameterRange elite) {
    return {youth, junior, senior, elite};
}

// Lateral speeds and release times have no published table: these are settings inside a range, not facts.
constexpr std::array<ParameterFact, 18> facts{{
    {"block_width_m",
     "m",
     "blocking width",
     {0.60, 0.75, 0.85, 0.90},
     0.40,
     1.70,
     "from memory, in doubt: standing in gear 0.75 to 0.95 m for seniors; butterfly 1.3 to 1.7 m",
     ranges({0.5, 0.7}, {0.65, 0.85}, {0.75, 0.95}, {0.75, 0.95})},
    {"block_height_m",
     "m",
     "blocking height",
     {0.95, 1.10, 1.20, 1.25},
     0.50,
     1.90,
     "from memory, in doubt: in stance"},
    {"shot_speed_mps",
     "m/s",
     "shot speed",
     {16.0, 25.0, 29.0, 35.0},
     5.0,
     50.0,
     "Woo et al.: slap shot 26.5 (recreational) to 29.1 m/s (elite); radar at a prospects' camp 31 to 42 "
     "m/s; youth from memory"},
    {"pass_speed_mps",
     "m/s",
     "pass speed",
     {11.0, 15.0, 18.0, 22.0},
     4.0,
     35.0,
     "13.4 to 26.8 m/s on an unsourced page; youth 8 to 15 m/s from memory, in doubt",
     ranges({8.0, 15.0}, {11.0, 20.0}, {13.4, 26.8}, {13.4, 26.8})},
    {"lateral_speed_mps",
     "m/s",
     "lateral speed",
     {1.3, 1.7, 2.0, 2.4},
     0.3,
     5.0,
     "from memory, in doubt: T-push or slide 1.5 to 2.5 m/s on average, start and stop included",
     ranges({1.0, 1.6}, {1.3, 2.1}, {1.5, 2.5}, {1.8, 3.0})},
    {"see_s",
     "s",
     "time to see the pass",
     {0.35, 0.30, 0.25, 0.20},
     0.0,
     1.0,
     "from memory: simple visual reaction 0.18 to 0.25 s, choice reaction 0.25 to 0.40 s in athletes",
     ranges({0.25, 0.45}, {0.2, 0.4}, {0.18, 0.4}, {0.18, 0.3})},
    {"one_timer_s",
     "s",
     "one-timer release",
     {0.15, 0.12, 0.10, 0.08},
     0.0,
     0.5,
     "from memory, in doubt: 0.03 to 0.15 s from the pass's arrival",
     ranges({0.05, 0.25}, {0.03, 0.2}, {0.03, 0.15}, {0.03, 0.12})},
    {"catch_and_shoot_s",
     "s",
     "catch-and-shoot release",
     {1.00, 0.80, 0.60, 0.45},
     0.05,
     2.0,
     "from memory, in doubt: 0.4 to 0.8 s for good seniors",
     ranges({0.7, 1.4}, {0.5, 1.1}, {0.4, 0.8}, {0.35, 0.6})},
    {"angle_tolerance_m",
     "m",
     "off-angle tolerance",
     {0.15, 0.15, 0.15, 0.15},
     0.0,
     1.0,
     "own proposal: half a skate length"},
    {"depth_tolerance_m",
     "m",
     "depth tolerance",
     {0.30, 0.30, 0.30, 0.30},
     0.0,
     1.0,
     "own proposal: one skate length"},
    {"defensive_depth_m", "m", "defensive up to", {0.45, 0.45, 0.45, 0.45}, 0.0, 1.5, own_band},
    {"base_half_width_m", "m", "base within", {0.30, 0.30, 0.30, 0.30}, 0.05, 1.0, own_band},
    {"cap_rush_m", "m", "deepest challenge, rush", {2.10, 2.30, 2.50, 2.50}, 0.3, 6.0, own_cap},
    {"cap_zone_m", "m", "deepest challenge, zone play", {1.80, 1.90, 2.00, 2.00}, 0.3, 6.0, own_cap},
    {"cap_penalty_kill_m",
     "m",
     "deepest challenge, penalty kill",
     {1.50, 1.60, 1.70, 1.70},
     0.3,
     6.0,
     own_cap},
    {"cap_rebound_m", "m", "deepest challenge, rebound", {1.20, 1.20, 1.20, 1.20}, 0.3, 6.0, own_cap},
    {"cap_breakaway_m", "m", "deepest challenge, breakaway", {2.40, 2.80, 3.00, 3.00}, 0.3, 6.0, own_cap},
    {"cap_neutral_ice_m",
     "m",
     "home position, puck beyond the red line",
     {0.75, 0.75, 0.75, 0.75},
     0.3,
     6.0,
     "USA Hockey's positioning page: midway between defensive and conservative; the length is our own"},
}};

double* field(Parameters& parameters, std::string_view key) {
    constexpr std::array<double Parameters::*, 12> plain{
        &Parameters::block_width_m,     &Parameters::block_height_m,    &Parameters::shot_speed_mps,
        &Parameters::pass_speed_mps,    &Parameters::lateral_speed_mps, &Parameters::see_s,
        &Parameters::one_timer_s,       &Parameters::catch_and_shoot_s, &Parameters::angle_tolerance_m,
        &Parameters::depth_tolerance_m, &Parameters::defensive_depth_m, &Parameters::base_half_width_m};
    const auto fact = std::ranges::find(facts, key, &ParameterFact::key);
    if (fact == facts.end()) return nullptr;
    const auto index = static_cast<std::size_t>(fact - facts.begin());
    return index < plain.size() ? &(parameters.*plain.at(index)) : &parameters.cap_m.at(index - plain.size());
}

template <class Enum, std::size_t N>
std::optional<Enum> from_key(const std::array<std::string_view, N>& keys, std::string_view key) {
    const auto found = std::ranges::find(keys, key);
    if (found == keys.end()) return std::nullopt;
    return static_cast<Enum>(found - keys.begin());
}

} // namespace

std::span<const ParameterFact> parameter_facts() {
    return facts;
}

const ParameterFact* find_parameter(std::string_view key) {
    const auto fact = std::ranges::find(facts, key, &ParameterFact::key);
    return fact == facts.end() ? nullptr : &*fact;
}

Parameters parameters_for(Level level) {
    Parameters parameters;
    for (const ParameterFact& fact : facts)
        *field(parameters, fact.key) = fact.by_level.at(static_cast<std::size_t>(level));
    return parameters;
}

std::optional<double> parameter(const Parameters& parameters, std::string_view key) {
    Parameters copy = parameters;
    const double* const value = field(copy, key);
    if (value == nullptr) return std::nullopt;
    return *value;
}

bool set_parameter(Parameters& parameters, std::string_view key, double value) {
    double* const target = field(parameters, key);
    if (target == nullptr) return false;
    *target = value;
    return true;
}

std::string_view key_of(Level level) {
    return level_keys.at(static_cast<std::size_t>(level));
}
std::string_view key_of(Situation situation) {
    return situation_keys.at(static_cast<std::size_t>(situation));
}
std::optional<Level> level_from_key(std::string_view key) {
    return from_key<Level>(level_keys, key);
}
std::optional<Situation> situation_from_key(std::string_view key) {
    return from_key<Situation>(situation_keys, key);
}

} // namespace ropeline
