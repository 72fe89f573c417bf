#include "depth/reading.h"

#include "depth/coverage.h"
#include "rink/crease.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ropeline {
namespace {

constexpr std::array<std::string_view, 4> band_keys{"defensive", "conservative", "base", "aggressive"};

double normal_below(double limit, double mean, double sigma) {
    if (sigma > 0.0) return 0.5 * std::erfc((mean - limit) / (sigma * std::numbers::sqrt2));
    return mean < limit ? 1.0 : 0.0;
}

/// Signed angle from the stance's facing to the puck; nothing without two skates apart or with the goalie on
/// the puck.
std::optional<double> square_error(const Stance& stance, IcePoint puck) {
    if (!stance.skates) return std::nullopt;
    const IcePoint across = (*stance.skates)[1] - (*stance.skates)[0];
    const IcePoint to_puck = puck - stance.goalie;
    if (length(across) == 0.0 || length(to_puck) == 0.0) return std::nullopt;
    const IcePoint facing{-across.y_m, across.x_m};
    return std::atan2(cross(facing, to_puck), dot(facing, to_puck));
}

} // namespace

std::string_view key_of(Band band) {
    return band_keys.at(static_cast<std::size_t>(band));
}

std::optional<Band> band_from_key(std::string_view key) {
    const auto found = std::ranges::find(band_keys, key);
    if (found == band_keys.end()) return std::nullopt;
    return static_cast<Band>(found - band_keys.begin());
}

Stance stance_from_skates(IcePoint left, IcePoint right) {
    return {(left + right) * 0.5, std::array{left, right}};
}
Stance stance_from_mark(IcePoint goalie) {
    return {goalie, std::nullopt};
}

IcePoint puck_line(IcePoint puck) {
    const double far = length(puck);
    return far > 0.0 ? puck * (1.0 / far) : IcePoint{0.0, 1.0};
}

double depth_m(IcePoint goalie, IcePoint puck) {
    return dot(goalie, puck_line(puck));
}

double off_angle_m(IcePoint goalie, IcePoint puck) {
    const IcePoint u = puck_line(puck);
    return dot(goalie, {u.y_m, -u.x_m});
}

Band band_of(double depth_m, double clearance_m, const Parameters& parameters) {
    if (depth_m < parameters.defensive_depth_m) return Band::defensive;
    if (clearance_m < -parameters.base_half_width_m) return Band::conservative;
    if (clearance_m <= parameters.base_half_width_m) return Band::base;
    return Band::aggressive;
}

Reading read_moment(const Stance& stance, IcePoint puck, const RuleBook& rules,
                    const Parameters& parameters) {
    Reading reading;
    reading.depth_m = depth_m(stance.goalie, puck);
    reading.off_angle_m = off_angle_m(stance.goalie, puck);
    reading.crease_edge_m = crease_edge_m(rules, puck_line(puck));
    reading.clearance_m = reading.depth_m - reading.crease_edge_m;
    reading.band = band_of(reading.depth_m, reading.clearance_m, parameters);
    reading.square_error_rad = square_error(stance, puck);
    reading.coverage = coverage_of(stance, puck, rules, parameters.block_width_m, parameters.block_height_m);
    reading.reaction_s = distance(puck, stance.goalie) / parameters.shot_speed_mps;
    return reading;
}

std::array<double, 4> band_odds(double depth_m, double clearance_m, double depth_sigma_m,
                                const Parameters& parameters) {
    if (!(depth_sigma_m > 0.0)) {
        std::array<double, 4> sure{};
        sure.at(static_cast<std::size_t>(band_of(depth_m, clearance_m, parameters))) = 1.0;
        return sure;
    }
    const double crease_edge = depth_m - clearance_m;
    const double defensive_end = parameters.defensive_depth_m;
    const double conservative_end = std::max(defensive_end, crease_edge - parameters.base_half_width_m);
    const double base_end = std::max(conservative_end, crease_edge + parameters.base_half_width_m);
    const double below_1 = normal_below(defensive_end, depth_m, depth_sigma_m);
    const double below_2 = normal_below(conservative_end, depth_m, depth_sigma_m);
    const double below_3 = normal_below(base_end, depth_m, depth_sigma_m);
    return {below_1, below_2 - below_1, below_3 - below_2, 1.0 - below_3};
}

} // namespace ropeline
