#include "depth/threat.h"

#include "depth/coverage.h"

#include <algorithm>

namespace ropeline {
namespace {

double pass_s(const Threat& threat, IcePoint puck, const Parameters& parameters) {
    return distance(threat.at, puck) / parameters.pass_speed_mps;
}

double release_s(const Threat& threat, const Parameters& parameters) {
    return threat.one_timer ? parameters.one_timer_s : parameters.catch_and_shoot_s;
}

} // namespace

std::optional<double> reach_depth_m(const Threat& threat, IcePoint puck, const Parameters& parameters) {
    const double moving_s =
        pass_s(threat, puck, parameters) + release_s(threat, parameters) - parameters.see_s;
    if (!(moving_s >= 0.0)) return 0.0;
    const double across =
        distance(puck_line(threat.at), puck_line(puck)); // 2 sin(phi / 2) on the unit circle
    const double way_m = parameters.lateral_speed_mps * moving_s;
    if (!(way_m < unbounded_reach_m * across)) return std::nullopt;
    return way_m / across;
}

ThreatReading read_threat(const Threat& threat, IcePoint goalie, IcePoint puck, const RuleBook& rules,
                          const Parameters& parameters) {
    ThreatReading reading;
    reading.pass_s = pass_s(threat, puck, parameters);
    reading.have_s = reading.pass_s + release_s(threat, parameters);
    reading.new_spot = puck_line(threat.at) * std::max(depth_m(goalie, puck), 0.0);
    const double way_m = distance(reading.new_spot, goalie);
    reading.need_s = parameters.see_s + way_m / parameters.lateral_speed_mps;
    reading.margin_s = reading.have_s - reading.need_s;
    reading.reach_depth_m = reach_depth_m(threat, puck, parameters);
    const double done_m = std::max(reading.have_s - parameters.see_s, 0.0) * parameters.lateral_speed_mps;
    reading.arrives_at =
        done_m < way_m ? goalie + (reading.new_spot - goalie) * (done_m / way_m) : reading.new_spot;
    reading.coverage_on_arrival =
        covered_of(stance_from_mark(reading.arrives_at), threat.at, rules, parameters.block_width_m);
    return reading;
}

} // namespace ropeline
