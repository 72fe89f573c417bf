// From marks to figures: what a moment says follows from its marks, its rink fit, the rule book and the
// season's parameters, and from nothing else.
#pragma once

#include "season/season_file.h"

namespace ropeline {

/// Fills in everything of the moment that can be derived.
/// In      marks in pixels, ice metres or both; `fit` maps pixels to the ice (null: the ice positions stand
/// as they are). Out     each mark's ice position and its covariance (metres squared), the reading, the
/// depth's standard deviation in
///         metres, the chance of the shown band. The shown band is the likeliest one. Figures that cannot be
///         had (no puck, no goalie, a mark above the horizon) are empty.
/// Source  the depth model, "At one moment".
void derive(Moment& moment, const RinkFit* fit, const RuleBook& rules, const Parameters& parameters);

/// Derives every moment again from its marks with the season's parameters, as one change that can be undone
/// (or as a part of the change under way). Out: how many moments there are.
int recompute(SeasonFile& file);

} // namespace ropeline
