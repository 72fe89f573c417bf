// The decision a play is counted by: the one at the pass when there was a pass, else the one at the shot.
#pragma once

#include "season/counted_play.h"
#include "season/records.h"

#include <optional>

namespace ropeline {

struct CountedDecision {
    std::optional<Band> band;
    std::optional<double> clearance_m, gave_away;
    std::optional<Verdict> verdict; ///< the reviewer's before the model's
};
CountedDecision decision_of(const ShotFact& fact);

/// A shot or a pass, as it was logged; else a pass where the moment of one was marked or the shot was taken off one, a shot
/// where it was carried. Nothing when neither came or nobody said.
std::optional<NextAction> what_came(const ShotFact& fact);
std::optional<NextAction> what_came(const CountedPlay& play);

/// Whether it ended as a goal; nothing for what was blocked, was no shot or has no outcome.
std::optional<bool> was_goal(const ShotFact& fact);
std::optional<bool> was_goal(const std::optional<Outcome>& outcome);

/// Says whether the depth was right. What was not judged does not, and beaten across is no fault of its moment.
bool is_answer_to_depth(Verdict verdict);

/// Base or beyond, rather than inside.
bool is_further_out(Band band);

// Of the puck when it was shot: metres to the middle of the net; degrees off straight out, 0 to 90, more from behind.
std::optional<double> shot_distance_m(const ShotFact& fact);
std::optional<double> shot_angle_deg(const ShotFact& fact);

} // namespace ropeline
