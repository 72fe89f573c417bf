#include "depth/parameters.h"

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

constexpr std::array<std::string_view, 4> level_keys{"youth", "junior", "senior", "elite"};
constexpr std::array<std::string_view, 6> situation_keys{"rush",    "zone",      "penalty_kill",
                                                         "rebound", "breakaway", "neutral_ice"};

constexpr std::string_view own_band =
    "own proposal on USA Hockey's positioning page, which names bands but no lengths";
constexpr std::string_view own_beyond =
    "own proposal: bands as USA Hockey's positioning page tells them apart, the lengths are our own";
constexpr std::string_view own_chance =
    "own proposal: how often a pass comes first when the body says so; no count was found";
constexpr std::array<std::string_view, 3> sight_keys{"clear", "partly", "screened"};

constexpr std::array<ParameterRange, 4> ranges(ParameterRange youth, ParameterRange junior,
                                               ParameterRange senior, ParameterRange elite) {
    return {youth, junior, senior, elite};
}

// Lateral speeds and release times have no published table: these are settings inside a range, not facts.
constexpr std::array<ParameterFact, 30> facts{{
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
     "from memory, in doubt: in stance",
     ranges({0.85, 1.05}, {1.0, 1.2}, {1.1, 1.3}, {1.15, 1.35})},
    {"shot_speed_mps",
     "m/s",
     "shot speed",
     {16.0, 25.0, 29.0, 35.0},
     5.0,
     50.0,
     "Woo et al.: slap shot 26.5 (recreational) to 29.1 m/s (elite); radar at a prospects' camp 31 to 42 "
     "m/s; youth and junior from memory, in doubt",
     ranges({12.0, 20.0}, {20.0, 28.0}, {25.0, 33.0}, {29.0, 38.0})},
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
     "release after stopping the pass",
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
     {0.15, 0.15, 0.15, 0.15},
     0.0,
     1.0,
     "own proposal: half a skate length"},
    {"defensive_depth_m", "m", "defensive up to", {0.45, 0.45, 0.45, 0.45}, 0.0, 1.5, own_band},
    {"base_half_width_m", "m", "base within", {0.30, 0.30, 0.30, 0.30}, 0.05, 1.0, own_band},
    {"reach_speed_mps",
     "m/s",
     "reach of hands and legs",
     {0.85, 1.05, 1.20, 1.30},
     0.0,
     4.0,
     "from memory, in doubt: 0.8 to 1.8 m/s while the shot is on its way; the young in proportion to their "
     "size",
     ranges({0.6, 1.3}, {0.7, 1.5}, {0.8, 1.8}, {0.9, 1.9})},
    {"reach_most_m",
     "m",
     "furthest reach",
     {0.32, 0.40, 0.45, 0.48},
     0.0,
     1.5,
     "from memory, in doubt: from the stance to a leg or an arm put out; the young in proportion to their "
     "size",
     ranges({0.25, 0.40}, {0.32, 0.48}, {0.35, 0.55}, {0.38, 0.58})},
    {"screen_s",
     "s",
     "a screened shot is seen later by",
     {0.15, 0.15, 0.15, 0.15},
     0.0,
     1.0,
     "from memory, in doubt: 0.1 to 0.25 s",
     ranges({0.1, 0.25}, {0.1, 0.25}, {0.1, 0.25}, {0.1, 0.25})},
    {"gap_m",
     "m",
     "never nearer to the puck than",
     {1.5, 1.5, 1.5, 1.5},
     0.3,
     4.0,
     "own proposal: nearer than a stick and a step the shooter goes past or through"},
    {"body_m",
     "m",
     "a push ends before the receiver by",
     {0.40, 0.40, 0.40, 0.40},
     0.1,
     1.5,
     "own proposal: half of two bodies"},
    {"loose_m",
     "m",
     "second chance, beside the loose puck",
     {1.5, 1.5, 1.5, 1.5},
     0.3,
     4.0,
     "own proposal: one stick away on either side"},
    {"loose_s",
     "s",
     "second chance, shot within",
     {0.45, 0.45, 0.45, 0.45},
     0.05,
     2.0,
     "own proposal; rebound shots come within 1 to 3 s, the near ones first"},
    {"contested",
     "share",
     "weight of a contested lane",
     {0.3, 0.3, 0.3, 0.3},
     0.0,
     1.0,
     "own proposal: how often such a pass gets through"},
    {"worth",
     "share",
     "worth acting on",
     {0.03, 0.03, 0.03, 0.03},
     0.005,
     0.2,
     "own proposal: three hundredths of the net"},
    {"home_m",
     "m",
     "furthest out, puck beyond the red line",
     {0.75, 0.75, 0.75, 0.75},
     0.3,
     3.0,
     "USA Hockey's positioning page: midway between defensive and conservative; the length is our own"},
    {"pass_chance_shot",
     "share",
     "chance of a pass first, likely shot",
     {0.2, 0.2, 0.2, 0.2},
     0.0,
     1.0,
     own_chance},
    {"pass_chance_either",
     "share",
     "chance of a pass first, either",
     {0.5, 0.5, 0.5, 0.5},
     0.0,
     1.0,
     own_chance},
    {"pass_chance_pass",
     "share",
     "chance of a pass first, likely pass",
     {0.8, 0.8, 0.8, 0.8},
     0.0,
     1.0,
     own_chance},
    {"beyond_rush_m",
     "m",
     "furthest out beyond the paint, rush",
     {0.75, 0.75, 0.75, 0.75},
     -1.5,
     4.0,
     own_beyond},
    {"beyond_zone_m",
     "m",
     "furthest out beyond the paint, zone play",
     {0.15, 0.15, 0.15, 0.15},
     -1.5,
     4.0,
     own_beyond},
    {"beyond_penalty_kill_m",
     "m",
     "furthest out beyond the paint, penalty kill",
     {0.00, 0.00, 0.00, 0.00},
     -1.5,
     4.0,
     own_beyond},
    {"beyond_rebound_m",
     "m",
     "furthest out beyond the paint, rebound",
     {-0.30, -0.30, -0.30, -0.30},
     -1.5,
     4.0,
     own_beyond},
    {"beyond_breakaway_m",
     "m",
     "furthest out beyond the paint, breakaway",
     {1.50, 1.50, 1.50, 1.50},
     -1.5,
     4.0,
     own_beyond},
}};

double* field(Parameters& parameters, std::string_view key) {
    const auto fact = std::ranges::find(facts, key, &ParameterFact::key);
    if (fact == facts.end()) return nullptr;
    return &parameter_at(parameters, static_cast<std::size_t>(fact - facts.begin()));
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

ParameterRange range_of(const ParameterFact& fact, Level level, double in_force) {
    const double fifth = 0.2 * std::abs(in_force);
    const ParameterRange range = fact.stated ? fact.stated->at(static_cast<std::size_t>(level))
                                             : ParameterRange{in_force - fifth, in_force + fifth};
    return {std::min(range.low, in_force), std::max(range.high, in_force)};
}

double& parameter_at(Parameters& parameters, std::size_t index) {
    constexpr std::array<double Parameters::*, 22> plain{&Parameters::block_width_m,
                                                         &Parameters::block_height_m,
                                                         &Parameters::shot_speed_mps,
                                                         &Parameters::pass_speed_mps,
                                                         &Parameters::lateral_speed_mps,
                                                         &Parameters::see_s,
                                                         &Parameters::one_timer_s,
                                                         &Parameters::catch_and_shoot_s,
                                                         &Parameters::angle_tolerance_m,
                                                         &Parameters::depth_tolerance_m,
                                                         &Parameters::defensive_depth_m,
                                                         &Parameters::base_half_width_m,
                                                         &Parameters::reach_speed_mps,
                                                         &Parameters::reach_most_m,
                                                         &Parameters::screen_s,
                                                         &Parameters::gap_m,
                                                         &Parameters::body_m,
                                                         &Parameters::loose_m,
                                                         &Parameters::loose_s,
                                                         &Parameters::contested,
                                                         &Parameters::worth,
                                                         &Parameters::home_m};
    if (index < plain.size()) return parameters.*plain.at(index);
    const std::size_t listed = index - plain.size(), chances = parameters.pass_chance.size();
    return listed < chances ? parameters.pass_chance.at(listed) : parameters.beyond_m.at(listed - chances);
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
std::string_view key_of(Sight sight) {
    return sight_keys.at(static_cast<std::size_t>(sight));
}
std::optional<Level> level_from_key(std::string_view key) {
    return from_key<Level>(level_keys, key);
}
std::optional<Situation> situation_from_key(std::string_view key) {
    return from_key<Situation>(situation_keys, key);
}
std::optional<Sight> sight_from_key(std::string_view key) {
    return from_key<Sight>(sight_keys, key);
}

} // namespace ropeline
