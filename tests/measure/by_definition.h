// The decision model a second time, for the tests only: written from its definitions in words, by rays, fine
// grids, searches and sums instead of closed forms, and sharing nothing with src/depth.
#pragma once

#include "measure/by_definition_net.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace ropeline::by_definition {

/// Metres, seconds, metres a second, shares; as they are for a senior.
struct Settings {
    double block_width_m = 0.85, block_height_m = 1.20;
    double shot_speed_mps = 29.0, pass_speed_mps = 18.0, lateral_speed_mps = 2.0;
    double see_s = 0.25, screen_s = 0.15, one_timer_s = 0.10, catch_and_shoot_s = 0.60;
    double reach_speed_mps = 1.2, reach_most_m = 0.45;
    double gap_m = 1.5, body_m = 0.4, loose_m = 1.5, loose_s = 0.45, home_m = 0.75;
    double beyond_rush_m = 0.75, beyond_zone_m = 0.15, beyond_penalty_kill_m = 0.0;
    double beyond_rebound_m = -0.30, beyond_breakaway_m = 1.50;
    double chance_shot = 0.2, chance_either = 0.5, chance_pass = 0.8; ///< of a pass, by what the body says
    double contested = 0.3, worth = 0.03;
    double angle_tolerance_m = 0.15, depth_tolerance_m = 0.15;
    double defensive_depth_m = 0.45, base_half_width_m = 0.30;
};

struct Opponent {
    Place at;
    std::string kind = "one_timer", lane = "open"; ///< as in the request
    bool took = false;
};

struct Before {
    Place goalie;
    double seconds = 0.0;
};

struct Moment {
    Place puck, goalie;
    std::optional<std::pair<Place, Place>> skates; ///< left, right; `goalie` is their middle
    std::vector<Opponent> threats;
    std::string situation, likelihood, sight, next; ///< as in the request; empty: not said
    std::optional<Before> before;
};

/// What became of the goalie when the puck got to an opponent.
struct Arrival {
    double pass_s = 0.0, have_s = 0.0, late_s = 0.0;
    Place at;
    double open = 0.0; ///< share of the net a shot from there finds
};

struct Stretch {
    double from = 0.0, to = 0.0, best = 0.0; ///< metres along the puck line
    double furthest = 0.0;                   ///< the most that was asked about
    double left_best = 0.0;
};

/// How far each yes-or-no question behind a verdict was from going the other way; infinite: was not asked.
struct Doubt {
    double post_m, worth_of_cost, half_of_cost, allowed_m, opened_m, across_m;
};

struct Answer {
    double depth = 0.0, off = 0.0, edge = 0.0, clearance = 0.0, reaction_s = 0.0;
    std::string band;
    double band_doubt_m = 0.0;          ///< from the nearest edge of a band
    std::optional<double> square_error; ///< radians
    std::optional<Seen> seen;
    bool on_post = false;
    double shot_open = 0.0, left = 0.0;
    std::vector<Arrival> arrivals;
    std::optional<Stretch> advised; ///< none on the post
    std::optional<double> gave_away;
    std::optional<double> reachable; ///< furthest out he can be, coming from the moment before
    double judged_from = 0.0;        ///< advised from, or less where that was out of reach
    std::string verdict;
    Doubt doubt{};
};

Answer answer(const Moment& moment, const RuleBook& rules, const Settings& settings);

/// Share of the net the play leaves with the goalie at a place.
double left_open(const Moment& moment, Place goalie, const RuleBook& rules, const Settings& settings);
/// Share of the net open to the shot or the pass that came; none: nothing came, or nobody is said to have it.
std::optional<double> open_to_what_came(const Moment& moment, Place goalie, const RuleBook& rules,
                                        const Settings& settings);
/// The place so far out on the puck line.
Place on_puck_line(const Moment& moment, double depth);

} // namespace ropeline::by_definition
