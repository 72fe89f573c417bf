// What an answer was worth: the call against what came, the place by the net it gives away.
#pragma once

#include "season/season_file.h"

#include <span>

namespace ropeline {

/// Of a place on the ice in one decision.
struct PlaceWorth {
    bool on_post = false; ///< the puck is too low for depth: no share of the net is asked
    double left = 0.0;    ///< share of the net the play leaves from there
    double best = 0.0;    ///< and from the best place on the puck line
    double worth = 0.0;   ///< up to this more is not worth acting on
    bool right = false;   ///< on the post: at it; else it gives away no more than is worth acting on
};
/// In      `play`: the shot's moments, `moment` among them.
/// Out     none unless puck and goalie are marked on the ice.
std::optional<PlaceWorth> worth_of_place(const Shot& shot, std::span<const Moment> play, const Moment& moment,
                                         IcePoint place, const RuleBook& rules, const Parameters& parameters);

/// Fills in call_right, gave_away and place_right.
void put_worth(Answer& answer, const Shot& shot, std::span<const Moment> play, const RuleBook& rules,
               const Parameters& parameters);

/// The same for answers of any moments of the season, read from the file; goalie_id with it.
/// Out     which of them are about a moment that the season has, in their order.
std::vector<bool> put_worth(const SeasonFile& file, std::span<Answer> answers);

} // namespace ropeline
