// What the model says of the moment in hand, worked out live: while a mark is dragged, and for a place that
// is only tried on the plan.
#pragma once

#include "depth/reason.h"
#include "desk/state/rink_here.h"
#include "season/play.h"

#include <optional>
#include <string>
#include <vector>

namespace ropeline {

struct Judged {
    AskedMoment asked;
    Decision decision;
    std::string headline;             ///< one line that anybody understands
    std::vector<std::string> figures; ///< what it rests on, a line each
    std::string advice;
};

/// All but how firm it is, which takes longer than a turn may while something is dragged.
/// Out     nothing unless puck and goalie lie on the ice.
std::optional<Judged> judged(const LogState& state, const ShotEntry& entry, const Moment& moment,
                             LengthUnit unit = LengthUnit::metres);

/// How firm the verdict is, and the figures again with that in them. Some ten milliseconds.
std::optional<Firmness> firmness_of(const LogState& state, const Moment& moment, const Judged& judged);
std::vector<std::string> figures_of(const LogState& state, const Moment& moment, const Judged& judged,
                                    const std::optional<Firmness>& firmness, LengthUnit unit);

/// The moment with the goalie somewhere else, as square to the puck as one point can tell.
Moment with_goalie_at(Moment moment, IcePoint place);

} // namespace ropeline
