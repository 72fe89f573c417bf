// The verdict of a decision, from where the goalie stood and what the carrier did next. The outcome (goal or
// save) is no input: a right read can be beaten and a wrong one can be lucky.
#pragma once

#include "depth/advice.h"

#include <span>
#include <vector>

namespace ropeline {

enum class NextAction { shot, pass, carry, none }; ///< what the carrier then did
enum class Verdict { right_read, over_challenged, sat_back, off_angle, late, not_judged };

/// One moment, as marked.
struct MarkedMoment {
    Stance stance;
    IcePoint puck;
    std::span<const Threat> threats;
    std::optional<Situation> situation;
    Likelihood likelihood = Likelihood::either;
    std::optional<NextAction> next;
    std::optional<bool>
        set; ///< at a release: standing still (see set_at in depth/sequence.h); none: not known
};

struct Decision {
    Reading reading;
    std::vector<ThreatReading> threats; ///< one for each of the moment's
    Advice advice;
    double depth_error_m = 0.0; ///< d - D*; within the depth tolerance it is right
    Verdict verdict = Verdict::not_judged;
    std::optional<std::size_t> threat; ///< the pass the verdict rests on: the least margin that counts
    /// Metres of goal line that standing off the puck line opens at one post; only where a shot came.
    std::optional<double> opened_m;
};

/// Everything that one moment says.
///
/// Shot came: sat back if depth error < -depth tolerance; else off angle if standing off the puck line opens
/// more than the angle tolerance at one post, against the same depth on the line ("late" instead when known
/// not to be set); else right read.
/// Pass came: over-challenged if a pass could not be reached (margin < 0) from where the goalie stood though
/// it could from D*, and the goalie was further out than D*; off angle if that pass was lost at D* or deeper,
/// since then only the way back to the line can have lost it; else right read.
/// Not judged: the next action is not known or neither shot nor pass, or a pass came and no threat is marked.
Decision decide(const MarkedMoment& moment, const RuleBook& rules, const Parameters& parameters);

/// Metres of goal line more in sight at one post than from the same depth on the puck line, the worse post;
/// none when the puck is on or behind the goal line.
std::optional<double> opened_off_line_m(IcePoint goalie, IcePoint puck, const RuleBook& rules,
                                        const Parameters& parameters);

std::string_view key_of(Verdict value);
std::string_view label_of(Verdict value); ///< "right read"
std::optional<Verdict> verdict_from_key(std::string_view key);
std::optional<NextAction> next_action_from_key(std::string_view key);

} // namespace ropeline
