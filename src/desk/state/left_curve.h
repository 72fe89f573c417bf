// Net left along the puck line, as the plan's small graph shows it: what the play leaves from every place the
// goalie could take on it, and how far out each pass still lets him be.
#pragma once

#include "depth/advice.h"

#include <optional>
#include <vector>

namespace ropeline {

struct LeftCurve {
    std::vector<CurvePoint> places; ///< from the goal line to a little beyond the furthest out
    struct Pass {
        double chance = 0.0;           ///< that it comes before the shot
        std::vector<double> open;      ///< net open at the receiver's shot, one for each place
        std::optional<double> works_m; ///< furthest out that works: there in time from here; none: nowhere
        bool works_anywhere = false;   ///< from the furthest place of the curve too
    };
    std::vector<Pass> passes; ///< one for each marked receiver
};

/// Follows from the play and not from the goalie's place: it stands while he is dragged.
LeftCurve left_curve(const PlayMarks& marks, const Advice& advice, const RuleBook& rules,
                     const Parameters& parameters);

} // namespace ropeline
