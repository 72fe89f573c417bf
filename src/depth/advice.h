// How far out the goalie can be: the stretch of the puck line from which the play leaves no more of the net
// than it must.
#pragma once

#include "depth/play.h"

#include <cstddef>
#include <optional>

namespace ropeline {

/// What ends the advised stretch on its outer side.
enum class Limit {
    pass,         ///< a pass that would find more open from further out
    gap,          ///< the gap to the puck
    situation,    ///< the furthest out that the situation allows
    inside_paint, ///< a pass is coming and nobody is marked
    home,         ///< on the way to the red line, or beyond it
    flat          ///< nothing to gain: from further out the shot itself finds more
};

struct Advice {
    double from_m = 0.0, to_m = 0.0; ///< D_in, D_out: on the puck line, from the net's middle
    double best_m = 0.0;             ///< D_best: the least net left
    double left_best = 0.0;          ///< share of the net that the play leaves from there
    double furthest_m = 0.0;         ///< furthest out on this line
    Limit limit = Limit::situation;
    std::optional<std::size_t> threat; ///< for Limit::pass, the marked receiver; none: a loose puck
    bool operator==(const Advice&) const = default;
};

/// Furthest out on the puck line, and what sets it: crease edge + what the situation allows beyond it, no
/// nearer to the puck than `gap_m`; from the blue line to the red line it shrinks evenly to `home_m`. The
/// body says pass and nobody who counts is marked: no further than the inner edge of base.
struct Furthest {
    double out_m = 0.0;
    double allowed_m = 0.0; ///< the same whatever the gap to the puck
    Limit limit = Limit::situation;
};
Furthest furthest_out(const PlayMarks& marks, const Play& play, const RuleBook& rules,
                      const Parameters& parameters);

/// The connected stretch around the least net left where it is within `worth` of that. From the red line on
/// anything from the goal line to `home_m`; over the last metre before it the stretch grows into that.
Advice advise(const PlayMarks& marks, const Play& play, const RuleBook& rules, const Parameters& parameters);

/// The curve that the advice is read from, for drawing: net left at `steps` + 1 even places from the goal
/// line to the furthest out.
struct CurvePoint {
    double out_m = 0.0, left = 0.0, shot = 0.0; ///< shot: net open at the shot alone
};
std::vector<CurvePoint> left_along_line(const Play& play, double furthest_m, int steps);

std::string_view key_of(Limit value);
std::optional<Limit> limit_from_key(std::string_view key);

} // namespace ropeline
