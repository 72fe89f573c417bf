// From marks to figures: what a moment says follows from its marks, its rink fit, the rule book and the
// season's parameters, and from nothing else.
#pragma once

#include "season/season_file.h"

#include <functional>
#include <set>

namespace ropeline {

/// Fills in everything of the moment that can be derived.
/// In      marks in pixels, ice metres or both; `fit` maps pixels to the ice (null: the ice positions stand as they are).
/// Out     each mark's ice position and its covariance (metres squared), the reading, the depth's standard deviation in
///         metres, the chance of the shown band. The shown band is the likeliest one. Figures that cannot be had (no
///         puck, no goalie, a mark above the horizon) are empty.
/// Source  the depth model, "At one moment".
void derive(Moment& moment, const RinkFit* fit, const RuleBook& rules, const Parameters& parameters);

/// The rink as it lies for this moment's goalie: `fit` turned to the other net where he defends that one. For
/// a step of the play the shot says so; what a second camera saw may rest on a fit made from either end, so
/// there it is the net that its goalie (without one, its puck) is nearer to.
RinkFit fit_for(const Shot& shot, const Moment& moment, const RinkFit& fit, const RuleBook& rules);

using Progress = std::function<void(double)>; ///< told the share done, 0..1, shot by shot, 1 at the end

/// Derives and judges every moment again from its marks with the season's parameters and the rule book of its
/// rink fit (the game's without one), as one change, or as a part of the change under way. Undo never sees figures, so
/// the change leaves no trace.
/// Out     how many moments there are.
int recompute(SeasonFile& file, const Progress& progress = {});

/// An older edition of the depth model worked out some of its figures, or none did yet.
bool figures_are_old(const SeasonFile& file);

/// The same for some shots of a game, as a follow-up; and each moment with clicks rests on the fit that its frame has
/// now, clicked or carried, whatever it rested on before.
void recompute(SeasonFile& file, const Id& game_id, const std::set<Id>& shot_ids);

/// Puts a level of play and its figures in force and works the whole season out again, as one change:
/// "parameters: lateral speed 2 → 2.5 m/s".
/// Out     how many moments were worked out again; 0, and no change, when nothing is different.
/// Throws  SeasonError::refused, and nothing is changed, for a figure outside what may be typed.
int set_parameters(SeasonFile& file, Level level, const Parameters& parameters,
                   const Progress& progress = {});

} // namespace ropeline
