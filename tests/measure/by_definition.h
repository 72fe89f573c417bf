// The decision model a second time, for the tests only: written from its definitions in words, by rays,
// searches and sums instead of closed forms, and sharing nothing with src/depth but the tables of settings.
#pragma once

#include "depth/parameters.h"
#include "rink/rule_book.h"

#include <complex>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace ropeline::by_definition {

using Place = std::complex<double>; ///< x to the right + i y up-ice, metres from the net's middle

struct Opponent {
    Place at;
    bool one_timer = false, open = true;
};

struct Moment {
    Place puck, goalie;
    std::optional<std::pair<Place, Place>> skates; ///< left, right; `goalie` is their middle
    std::vector<Opponent> threats;
    std::string situation, likelihood, next; ///< as in the request; empty: not said
};

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

struct Pass {
    double pass_s = 0.0, have_s = 0.0, need_s = 0.0, margin_s = 0.0;
    std::optional<double> reach_m; ///< none: further than 100 m
    Place new_spot;
    std::optional<double> covered_on_arrival;
};

struct Answer {
    double depth = 0.0, off = 0.0, edge = 0.0, clearance = 0.0, reaction_s = 0.0;
    std::string band;
    std::optional<double> square_error; ///< radians
    std::optional<Seen> seen;
    std::vector<Pass> passes;
    double cap = 0.0, advised = 0.0, error = 0.0;
    std::string limit, verdict;
    double nearest_edge = 0.0; ///< how far the closest yes-or-no question was from going the other way
};

Answer answer(const Moment& moment, const RuleBook& rules, const Parameters& parameters);

} // namespace ropeline::by_definition
