// What the tests of the model take for granted: the rink and the goalie of the worked plays, and how to read a sentence.
#pragma once

#include "depth/parameters.h"
#include "rink/ice_point.h"
#include "rink/rule_book.h"
#include "rink/units.h"

#include <string>
#include <string_view>

namespace ropeline::usual {

inline const RuleBook& nhl = rule_book(RuleBookId::nhl);
inline const Parameters senior = parameters_for(Level::senior);

inline IcePoint feet(double x, double y) {
    return {from_feet(x), from_feet(y)};
}
inline bool says(const std::string& text, std::string_view words) {
    return text.find(words) != std::string::npos;
}

} // namespace ropeline::usual
