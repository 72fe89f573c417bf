// Does standing further out go together with fewer goals? Asked of clear shots and of passes apart, since what helps on
// the one costs on the other, and within like plays, since a goalie chooses his depth by the play.
#pragma once

#include "season/counted_play.h"
#include "season/records.h"
#include "tally/difference.h"

#include <optional>
#include <span>

namespace ropeline {

enum class DepthAnswer {
    fewer,      ///< fewer goals from further out: the whole interval is below 0
    more,       ///< more goals
    no_matter,  ///< the interval lies within what is worth acting on, to both sides
    not_enough, ///< the shots do not say
};

struct ComingOut {
    NextAction came = NextAction::shot; ///< clear shots, or passes
    Share out, inside;                  ///< goals of unblocked attempts: from base or beyond, from inside
    std::optional<Difference> plain;    ///< out less inside, whatever the plays were
    std::optional<Difference> within_like_plays;
    DepthAnswer answer = DepthAnswer::not_enough;
    std::optional<int>
        attempts_needed; ///< in all, until the interval reaches no further than worth_acting_on to either side; none when nothing is known
};

/// A difference in goals of an attempt that a coach would change a depth for: one goal in twenty.
constexpr double worth_acting_on = 0.05;

/// Plays are like when goalie and situation are the same and, for a clear shot, the puck was in the same of three
/// distances (under 6 m, under 12 m, beyond). Like plays from one side only say nothing and are left out.
ComingOut coming_out(std::span<const ShotFact> facts, NextAction came);
ComingOut coming_out(const CountedShots& shots, NextAction came);

} // namespace ropeline
