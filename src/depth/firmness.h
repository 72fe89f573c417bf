// How firm a verdict is: many parameters are ranges from memory and every mark has its spread, so the decision
// is worked out again with both moved about.
#pragma once

#include "depth/verdict.h"

#include <string_view>

namespace ropeline {

struct Firmness {
    double share = 0.0; ///< of the draws with the same verdict, 0..1
    /// Of what was drawn, that which goes most with the other verdicts: a parameter's key, or one of
    /// "goalie", "puck", "receiver", "before" for a mark. Empty when every draw agrees.
    std::string_view turns_on;
    Verdict becomes = Verdict::not_judged; ///< the most frequent other verdict; only with `turns_on`
};
constexpr double firm_from = 0.9; ///< less is a close call
/// Of a hundred trials, rounded down: a close call never reads as 90, nor one turned trial as 100.
int same_of_100(const Firmness& firmness);
constexpr int firmness_draws = 200;

/// In      `seed`: the moment's id, so that the answer is the same every time. `spread`: joint covariance of
///         the marks, row-major, metres squared, in the order left skate, right skate, puck, threats (or
///         goalie, puck, threats for a stance of one mark); empty when it is not known.
/// Out     nothing for a moment that is not judged.
/// Throws  std::invalid_argument for a spread of another size.
/// Notes   Parameters are drawn evenly, each by itself, from range_of(), half below the value in force and half
///         above it. No mark is surer than `mark_m`, half
///         a puck: the place before and the seconds since (to a frame) are drawn too.
///         A verdict that a millimetre of a mark, a millisecond or a hundredth of a metre a second turns is a close call
///         whatever the draws say: its share is then 0.89 at most.
constexpr double mark_m = 0.02;
constexpr double frame_s = 0.02;
std::optional<Firmness> firmness_of(const MarkedMoment& moment, const RuleBook& rules,
                                    const Parameters& parameters, Level level, std::string_view seed,
                                    std::span<const double> spread = {});

/// What a coach calls it: "lateral speed", "where the puck is marked". Empty for an empty key.
std::string_view label_of_turn(std::string_view turns_on);

/// The key as `turns_on` gives it, lasting; empty for one that is not known.
std::string_view turn_from_key(std::string_view key);

} // namespace ropeline
