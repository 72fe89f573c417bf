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

/// What can be seen of the shot: nobody in the way, somebody at times, somebody in front of the goalie.
enum class Sight { clear, partly, screened };

/// Metres, seconds, metres a second, shares of 1. `edges` of the bands belong to the season.
struct Parameters {
    double block_width_m = 0.0;  ///< w: width of the blocking segment
    double block_height_m = 0.0; ///< h
    double shot_speed_mps = 0.0;
    double pass_speed_mps = 0.0;
    double lateral_speed_mps = 0.0;
    double see_s = 0.0;
    double one_timer_s = 0.0;
    double catch_and_shoot_s = 0.0; ///< release of one who stops the pass
    double angle_tolerance_m = 0.0;
    double depth_tolerance_m = 0.0;
    double defensive_depth_m = 0.0; ///< depth under which the band is defensive
    double base_half_width_m = 0.0; ///< |clearance| up to which the band is base
    double reach_speed_mps = 0.0;   ///< hands and legs while the shot is on its way
    double reach_most_m = 0.0;
    double screen_s = 0.0;               ///< a screened shot is seen this much later
    double gap_m = 0.0;                  ///< never nearer to the puck
    double body_m = 0.0;                 ///< the goalie's push ends this far from a receiver
    double loose_m = 0.0;                ///< how far beside a loose puck nobody's man is thought to be
    double loose_s = 0.0;                ///< and how soon he shoots
    double contested = 0.0;              ///< weight of a receiver whose lane is contested
    double worth = 0.0;                  ///< of the net: less is not worth acting on
    double home_m = 0.0;                 ///< furthest out with the puck at the red line or beyond
    std::array<double, 3> pass_chance{}; ///< before the shot, by Likelihood: what the body says
    std::array<double, 5> beyond_m{}; ///< furthest out, beyond the crease edge, by Situation up to breakaway
};

/// Where a value may honestly lie. Equal ends: a setting, not in doubt.
struct ParameterRange {
    double low = 0.0, high = 0.0;
};

/// What a parameter is: for the parameters page, the season file and messages.
struct ParameterFact {
    std::string_view key;  ///< "block_width_m", "beyond_rush_m"
    std::string_view unit; ///< "m", "s", "m/s", "share"
    std::string_view label;
    std::array<double, 4> by_level;
    double least = 0.0, most = 0.0; ///< what may be typed; outside is a slip of the unit
    std::string_view source;
    /// What the source leaves open at each level; none stated for a setting of our own, which is tried 20 %
    /// either way where the question is how firm a verdict is.
    std::optional<std::array<ParameterRange, 4>> stated{};
};

std::span<const ParameterFact> parameter_facts();
const ParameterFact* find_parameter(std::string_view key); ///< null for an unknown key
/// Where a value lies when it is asked how firm a verdict is: the stated range, else 20 % either way; always
/// with the value in force inside it.
ParameterRange range_of(const ParameterFact& fact, Level level, double in_force);
Parameters parameters_for(Level level);
/// One parameter by its place in parameter_facts(), for who goes through all of them.
double& parameter_at(Parameters& parameters, std::size_t index);
/// Read or write one parameter by its key; nothing / false for an unknown key.
std::optional<double> parameter(const Parameters& parameters, std::string_view key);
bool set_parameter(Parameters& parameters, std::string_view key, double value);

std::string_view key_of(Level level);
std::string_view key_of(Situation situation);
std::string_view key_of(Sight sight);
std::optional<Level> level_from_key(std::string_view key);
std::optional<Situation> situation_from_key(std::string_view key);
std::optional<Sight> sight_from_key(std::string_view key);

} // namespace ropeline
