// What one moment says: where the goalie stands against the puck line, and how much net that leaves.
// Pure functions over metres. Formulae: DEVELOPERS.md, "The depth model".
#pragma once

#include "depth/parameters.h"
#include "rink/ice_point.h"
#include "rink/rule_book.h"

#include <array>
#include <optional>
#include <string_view>

namespace ropeline {

/// Changes whenever a formula changes; kept beside every derived number.
constexpr int depth_model_version = 2;

/// "On the post" is no band of depth: it says where the puck is, not how far out the goalie stands, so it has
/// no edges and no odds. on_post_play() and at_post() say it, and a decision keeps it beside the band.
enum class Band { defensive, conservative, base, aggressive };
std::string_view key_of(Band band);
std::optional<Band> band_from_key(std::string_view key);

struct Stance {
    IcePoint goalie;                               ///< middle of the two skates, or the single mark
    std::optional<std::array<IcePoint, 2>> skates; ///< goalie's left and right skate
};

Stance stance_from_skates(IcePoint left, IcePoint right);
Stance stance_from_mark(IcePoint goalie);

struct Opening {
    double angle_rad = 0.0;   ///< seen from the puck
    double goal_line_m = 0.0; ///< the same as a length of goal line
};

struct Coverage {
    double net_angle_rad = 0.0;   ///< between the inside faces of the posts, at the puck
    double covered = 0.0;         ///< share of the net angle hidden, 0..1
    Opening short_side, far_side; ///< short side: the post nearer the puck
    double net_seen =
        0.0; ///< share of the mouth's area that a block of the goalie's height leaves in sight, 0..1
};

struct Reading {
    double depth_m = 0.0;       ///< d = G.u
    double off_angle_m = 0.0;   ///< e = G.n, right of the puck line seen from the net is positive
    double crease_edge_m = 0.0; ///< c(u)
    double clearance_m = 0.0;   ///< k = d - c(u)
    Band band{};
    /// From where the stance faces to the puck, positive to the goalie's left; needs both skates.
    std::optional<double> square_error_rad;
    std::optional<Coverage> coverage; ///< none when the puck is on or behind the goal line
    double reaction_s = 0.0;          ///< |P - G| / shot speed
};

/// Unit vector from the middle of the net to the puck; up-ice for a puck on the middle of the net.
IcePoint puck_line(IcePoint puck);
/// d = G.u with u the direction from the middle of the net to the puck. Puck on the origin: u is up-ice.
double depth_m(IcePoint goalie, IcePoint puck);
double off_angle_m(IcePoint goalie, IcePoint puck);
Band band_of(double depth_m, double clearance_m, const Parameters& parameters);
Reading read_moment(const Stance& stance, IcePoint puck, const RuleBook& rules, const Parameters& parameters);

/// Chance of each band when depth has this standard deviation; sums to 1. Order of Band.
std::array<double, 4> band_odds(double depth_m, double clearance_m, double depth_sigma_m,
                                const Parameters& parameters);

} // namespace ropeline
