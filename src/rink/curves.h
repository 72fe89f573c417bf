// Painted lines of known place on which a click may lie anywhere: it fixes the fit in one direction, across
// the line.
#pragma once

#include "rink/ice_point.h"
#include "rink/rule_book.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

/// One straight stretch, or one arc about `centre` when `radius_m` is above 0. Ends as drawn; an arc runs
/// from `from` to `to` anticlockwise seen from above, and all the way round when both are the same.
struct CurvePiece {
    IcePoint from, to;
    IcePoint centre;
    double radius_m = 0.0;
};

struct IceCurve {
    std::string name;  ///< as written in JSON: "blue_line"
    std::string label; ///< as shown to a coach: "blue line, middle"
    std::vector<CurvePiece> pieces;
};

/// Curves of the near end and the neutral zone: goal_line, blue_line and red_line along their middles,
/// crease, left_circle, right_circle and centre_circle along their outer edges, boards along their foot.
const std::vector<IceCurve>& ice_curves(const RuleBook& rules);
std::optional<IceCurve> find_curve(const RuleBook& rules, std::string_view name);

/// Distance to the piece as drawn, ends included; metres, not signed.
double distance_m(const CurvePiece& piece, IcePoint to);
/// Distance to the curve as drawn, metres.
double distance_m(const IceCurve& curve, IcePoint to);
/// The curve as a polyline with a place at least every `step_m`; its pieces follow each other.
std::vector<IcePoint> places_along(const IceCurve& curve, double step_m = 0.5);
/// The piece nearest to a place.
const CurvePiece& nearest_piece(const IceCurve& curve, IcePoint to);

} // namespace ropeline
