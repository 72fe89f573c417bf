// Where the puck is too low for depth: the goalie belongs on the post.
#pragma once

#include "depth/parameters.h"
#include "rink/ice_point.h"
#include "rink/rule_book.h"

namespace ropeline {

/// Below this height up-ice a puck can be too low for depth; from the posts no further than this is "on the
/// post". Own proposal.
constexpr double low_puck_m = 3.0;
constexpr double post_reach_m = 0.5;

/// The puck is at or behind the goal line, or under `low_puck_m` where the mouth, 2 * half gap * P_y / |P|
/// wide as the puck sees it, is no wider than the goalie.
bool on_post_play(IcePoint puck, const RuleBook& rules, const Parameters& parameters);

/// The goalie is within `post_reach_m` of the near post; of either one for a puck behind the net.
bool at_post(IcePoint goalie, IcePoint puck, const RuleBook& rules);

} // namespace ropeline
