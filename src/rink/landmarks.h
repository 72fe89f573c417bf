// Points of the paint with names: what a coach can click to fit the rink. "left" and "right" are seen from the net
// looking up-ice, so "right" has x > 0.
#pragma once

#include "rink/ice_point.h"
#include "rink/rule_book.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

struct Landmark {
    std::string name;  ///< as written in JSON and in the season file: "left_post"
    std::string label; ///< as shown to a coach: "left post, inside"
    IcePoint at;
    bool marked = true;     ///< paint shows where it is; an extreme of a curve has to be guessed
    bool at_boards = false; ///< there the builders of the boards put it, not the painters
};

/// All landmarks of the near end and the neutral zone up to the red line, nearest the net first.
const std::vector<Landmark>& landmarks(const RuleBook& rules);

/// The landmark of that name, or nothing.
std::optional<Landmark> find_landmark(const RuleBook& rules, std::string_view name);

/// The same rink seen from the other net: (x, y) -> (-x, length between the goal lines - y).
IcePoint from_other_end(const RuleBook& rules, IcePoint at);

} // namespace ropeline
