// What a play is worth from a spot: the share of the net it leaves, the shot and every pass that could come
// before it weighed by their chance.
#pragma once

#include "depth/cues.h"
#include "depth/threat.h"

#include <optional>
#include <span>
#include <vector>

namespace ropeline {

/// What is asked about a moment, whatever the goalie does.
struct PlayMarks {
    IcePoint puck;
    std::span<const Threat> threats;
    std::optional<Situation> situation; ///< none: zone play is assumed
    Likelihood likelihood = Likelihood::either;
    Sight sight = Sight::clear; ///< of the shot from the puck
};

/// A play with everything worked out that does not depend on where the goalie stands.
struct Play {
    Shooter shooter; ///< the carrier
    Blocking blocking;
    std::vector<Receiver> threats; ///< as marked, then the two of a loose puck
    std::vector<double> chances;   ///< that the pass to each comes first
    double shot_chance = 1.0;      ///< with the chances it makes 1
    double counts = 0.0;           ///< 0: nobody who counts is marked; 1: somebody is
    std::size_t marked = 0;        ///< how many of the threats are marked ones
};

/// Chance of a pass first = that of what the body says * the largest weight, shared out by weight. Weight: 1,
/// a contested lane `contested`; none for who cannot shoot, at or behind the goal line or above the blue line
/// (over the last `edge_m` before either it falls to nothing). A rebound has two receivers nobody marked,
/// `loose_m` to either side of the puck across the puck line, not lower than 0.5 m, who shoot after `loose_s`.
Play play_of(const PlayMarks& marks, const RuleBook& rules, const Parameters& parameters);

/// Furthest out on a line towards `at`: crease edge + what the situation allows beyond it.
double furthest_on_line_m(IcePoint at, std::optional<Situation> situation, const RuleBook& rules,
                          const Parameters& parameters);

double shot_open(const Play& play, IcePoint goalie); ///< net open at the shot from the puck
/// left(X) = shot chance * open at the shot + sum of chance * open after the best push onto each line.
double net_left(const Play& play, IcePoint goalie);

} // namespace ropeline
