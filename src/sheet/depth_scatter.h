// Every shot of a season by how far out the goalie stood and how it ended.
#pragma once

#include "season/records.h"
#include "sheet/scene.h"

#include <span>

namespace ropeline {

enum class DepthAxis {
    clearance, ///< from the edge of the crease: 0 is on it, positive is outside the paint
    depth,     ///< from the middle of the goal line
};

/// One mark a shot that has a depth and an outcome: x = metres on the axis, rows = goals, saves, other;
/// within its row a mark's place says nothing (spread by the shot's id, so that the same season gives the
/// same picture). Goals are filled triangles, saves rings, everything else bars. The strips behind are the
/// bands with the season's edges; where an edge depends on the direction (the crease is not equally deep all
/// round) the strips leave a gap as wide as that.
/// In   beside: the shots of the picture that stands next to it, so that both have one axis.
Scene depth_scatter(std::span<const ShotFact> facts, const Season& season,
                    DepthAxis axis = DepthAxis::clearance, std::span<const ShotFact> beside = {});

} // namespace ropeline
