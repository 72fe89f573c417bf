#include "season/own_figures.h"

#include <algorithm>

namespace ropeline {

Parameters parameters_of(const Parameters& season, const std::vector<Goalie>& goalies, const Id& goalie_id) {
    Parameters own = season;
    const auto goalie = std::ranges::find(goalies, goalie_id, &Goalie::id);
    if (goalie == goalies.end()) return own;
    own.block_width_m = goalie->blocking_width_m.value_or(own.block_width_m);
    own.lateral_speed_mps = goalie->lateral_speed_mps.value_or(own.lateral_speed_mps);
    return own;
}

} // namespace ropeline
