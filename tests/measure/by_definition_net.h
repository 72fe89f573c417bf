// The net as the puck sees it and the paint in front of it, by rays and searches: the plain geometry under
// the model written a second time.
#pragma once

#include "rink/rule_book.h"

#include <complex>
#include <functional>
#include <optional>
#include <utility>

namespace ropeline::by_definition {

using Place = std::complex<double>; ///< x to the right + i y up-ice, metres from the net's middle
constexpr Place i{0.0, 1.0};

/// Where the answer changes from yes (at `yes`) to no (at `no`).
double change_between(double yes, double no, const std::function<bool(double)>& ask);

Place direction_of(Place at);
double dot(Place one, Place other);

/// How far a place lies along a direction, and how far to the right of it as seen looking that way.
struct Parts {
    double along = 0.0, right = 0.0;
};
Parts parts_along(Place at, Place direction);

/// The crease's outer edge along a direction: the last point that is inside the paint.
double crease_edge(Place along, const RuleBook& rules);

/// The net as the puck sees it, by casting rays.
struct Seen {
    double net_angle = 0.0; ///< radians
    bool any = false;       ///< some ray is stopped
    double covered = 0.0;
    double left_angle = 0.0, right_angle = 0.0; ///< open beside the left and the right post
    double left_m = 0.0, right_m = 0.0;         ///< the same on the goal line
    double area = 1.0;                          ///< share of the mouth in sight
};
/// How coarse the first look is: a block thinner than this share of the net angle can be missed.
constexpr int rays = 512;

/// By a flat goalie across the line of his skates, or square to the puck.
std::optional<Seen> look(Place puck, Place goalie, const std::optional<std::pair<Place, Place>>& skates,
                         double block_width, double block_height, const RuleBook& rules);

/// Square metres of the mouth behind a goalie who stands square to the shot. On the goal line's own half
/// width behind its middle he hides less and less, behind that nothing.
double hidden_area(Place from, Place goalie, double half, double high, const RuleBook& rules);

} // namespace ropeline::by_definition
