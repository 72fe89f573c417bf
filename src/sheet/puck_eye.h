// The puck's eye as shapes: the goal mouth as the puck on the ice sees it, with the goalie in the way. The desk, the
// reel and the handout each paint the same shapes.
#pragma once

#include "depth/net_seen.h"
#include "depth/parameters.h"

#include <array>
#include <optional>
#include <vector>

namespace ropeline {

/// All in tangents at the eye: to the right as the puck sees it, and up.
struct PuckEye {
    std::vector<EyePoint> mouth;                  ///< four corners: left and right foot, right and left top
    std::vector<std::array<EyePoint, 2>> netting; ///< thin lines behind it
    std::vector<EyePoint> shadow;                 ///< what the goalie hides of the mouth; may be empty
    std::vector<EyePoint> block; ///< the whole upright block as it stands; empty when beside the eye
    double share = 0.0;          ///< of the mouth left in sight, 0..1
    double left = 0.0, right = 0.0, top = 0.0; ///< the mouth's bounds; its foot is about 0
};

/// Out     nothing when the puck sees no net from there.
std::optional<PuckEye> puck_eye(const Stance& stance, IcePoint puck, const RuleBook& rules,
                                const Parameters& parameters);

} // namespace ropeline
