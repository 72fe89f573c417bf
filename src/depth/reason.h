// A decision in words of the trade: first one line that anybody understands, then the figures it rests on.
#pragma once

#include "depth/firmness.h"

#include <string>
#include <vector>

namespace ropeline {

enum class LengthUnit { metres, feet, skate_lengths };
constexpr double skate_length_m = 0.30; ///< common practice, no source: about a senior's blade holder

/// A length as figures give it, "1.48 m", "4.9 ft", and as one says it, "1.5 m", "5 ft", "5 skate lengths".
/// Figures know no skate lengths: they are in metres then.
std::string in_figures(double metres, LengthUnit unit);
std::string in_words(double metres, LengthUnit unit);

/// "Over-challenged: 0.9 m too far out for the pass"; no full stop.
std::string headline_for(const Decision& decision, LengthUnit unit = LengthUnit::metres);

/// What it rests on, in parts: where he stood and what is advised, the pass that matters most, what he gave
/// away, what came, how firm it is.
std::vector<std::string> figure_parts_for(const MarkedMoment& moment, const Decision& decision,
                                          const std::optional<Firmness>& firmness, Level level,
                                          const RuleBook& rules, LengthUnit unit = LengthUnit::metres);

/// The parts in one line, with semicolons between.
std::string figures_for(const MarkedMoment& moment, const Decision& decision,
                        const std::optional<Firmness>& firmness, Level level, const RuleBook& rules,
                        LengthUnit unit = LengthUnit::metres);

/// Headline and figures in one sentence.
std::string reason_for(const MarkedMoment& moment, const Decision& decision,
                       const std::optional<Firmness>& firmness, Level level, const RuleBook& rules,
                       LengthUnit unit = LengthUnit::metres);

/// "0.26 to 1.24 m out: any further out, the one-timer on the far side gets more of the net."
std::string advice_for(const MarkedMoment& moment, const Decision& decision, const RuleBook& rules,
                       LengthUnit unit = LengthUnit::metres);

/// "one-timer on the far side": the far side is the one the puck is not on.
std::string name_of(const Threat& threat, IcePoint puck);

} // namespace ropeline
