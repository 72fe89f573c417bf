// Shares, their differences and what was given away, with intervals, as the season's sentences and charts write them.
#pragma once

#include "tally/difference.h"
#include "tally/over_games.h"

#include <string>

namespace ropeline {

/// ".05", "1.00"; the sign is left to the words.
std::string two_digits(double share);

/// "4 of 120"
std::string count_words(Share share);

/// "30 of 370, .081 (.057 to .113)", with Wilson's 95 %.
std::string share_words(Share share);

/// ".03 fewer to .11 more"
std::string range_words(const Interval& interval);

/// Of a difference whose sign the words say: ".15 (.07 to .23)"
std::string sizes_words(const Difference& difference);

/// Of the net, a play: "9.9 % (8.4 to 11.5)"; none of it can be less than nothing.
std::string given_away_words(const GivenAway& given);

} // namespace ropeline
