// Every number of the decision model that is a setting, not a law: one table by level of play, each with its
// source.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string_view>

namespace ropeline {

enum class Level { youth, junior, senior, elite };
enum class Situation { rush, zone, penalty_kill, rebound, breakaway, neutral_ice };

/// Metres, seconds, metres a second. `edges` of the bands belong to the season.
struct Parameters {
    double block_width_m = 0.0;  ///< w: width of the blocking segment
    double block_height_m = 0.0; ///< h
    double shot_speed_mps = 0.0;
    double pass_speed_mps = 0.0;
    double lateral_speed_mps = 0.0;
    double see_s = 0.0;
    double one_timer_s = 0.0;
    double catch_and_shoot_s = 0.0;
    double angle_tolerance_m = 0.0;
    double depth_tolerance_m = 0.0;
    double defensive_depth_m = 0.0; ///< depth under which the band is defensive
    double base_half_width_m = 0.0; ///< |clearance| up to which the band is base
    std::array<double, 6>
        cap_m{}; ///< advised depth never above this, by Situation; metres from the goal's middle
};

/// Where a value may honestly lie. Equal ends: a setting, not in doubt.
struct ParameterRange {
    double low = 0.0, high = 0.0;
};

/// What a parameter is: for the parameters page, the season file and messages.
struct ParameterFact {
    std::string_view key;  ///< "block_width_m", "cap_rush_m"
    std::string_view unit; ///< "m", "s", "m/s"
    std::string_view label;
    std::array<double, 4> by_level;
    double least = 0.0, most = 0.0; ///< what may be typed; outside is a slip of the unit
    std::string_view source;
    /// What the source leaves open at each level; none stated for a setting.
    std::optional<std::array<ParameterRange, 4>> stated{};
};

std::span<const ParameterFact> parameter_facts();
const ParameterFact* find_parameter(std::string_view key); ///< null for an unknown key
Parameters parameters_for(Level level);
/// Read or write one parameter by its key; nothing / false for an unknown key.
std::optional<double> parameter(const Parameters& parameters, std::string_view key);
bool set_parameter(Parameters& parameters, std::string_view key, double value);

std::string_view key_of(Level level);
std::string_view key_of(Situation situation);
std::optional<Level> level_from_key(std::string_view key);
std::optional<Situation> situation_from_key(std::string_view key);

} // namespace ropeline
