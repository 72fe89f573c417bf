// What the model says of the moment in hand, worked out live: while a mark is dragged, and for a place that
// is only tried on the plan.
#pragma once

#include "depth/flip.h"
#include "desk/state/rink_here.h"
#include "season/play.h"

#include <optional>
#include <string>
#include <vector>

namespace ropeline {

struct Judged {
    AskedMoment asked;
    Decision decision;
    std::string reason; ///< one sentence, with the figures it rests on
    std::string advice;
};

/// Out     nothing unless puck and goalie lie on the ice.
std::optional<Judged> judged(const LogState& state, const ShotEntry& entry, const Moment& moment);

/// The moment with the goalie somewhere else, as square to the puck as one point can tell.
Moment with_goalie_at(Moment moment, IcePoint place);

} // namespace ropeline
