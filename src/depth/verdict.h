// The verdict of a decision, from where the goalie stood and what could be known then: never from the outcome,
// never from what came next.
#pragma once

#include "depth/advice.h"
#include "depth/reading.h"

#include <span>
#include <vector>

namespace ropeline {

enum class NextAction { shot, pass, carry, none }; ///< what the carrier then did
enum class Verdict {
    right_depth,
    over_challenged, ///< too far out, and it is the passes that make it dear
    too_far_out,
    sat_back,
    off_angle,
    beaten_across, ///< the new line was out of reach from where he stood before: no fault of this moment
    off_the_post,
    not_judged
};

/// Where the goalie stood at the moment before, and the film's time since.
struct Before {
    IcePoint goalie;
    double seconds = 0.0;
};

/// One moment, as marked.
struct MarkedMoment {
    Stance stance;
    IcePoint puck;
    std::span<const Threat> threats;
    std::optional<Situation> situation;
    Likelihood likelihood = Likelihood::either;
    Sight sight = Sight::clear;
    std::optional<NextAction> next;
    std::optional<Before> before;
    /// At a release: standing still (see set_at in depth/sequence.h); none: not known. Said, never judged.
    std::optional<bool> set;
};
PlayMarks play_marks(const MarkedMoment& moment);

/// Net open at what was made: the shot, or the shot of the receiver who got the pass.
struct OnWhatCame {
    double open = 0.0;                 ///< from where he stood
    double from_advised = 0.0;         ///< from D_best
    std::optional<std::size_t> threat; ///< the receiver; none: the shot
    bool operator==(const OnWhatCame&) const = default;
};

/// What the goalie could do since the moment before: first onto the new line at its nearest point, then out
/// along it.
struct WithinReach {
    bool line = true;        ///< the nearest point of the line was in reach
    double furthest_m = 0.0; ///< how far out on it he could be
    double beside_m = 0.0;   ///< how far from the line he began
    double push_m = 0.0;     ///< how far he could go
};

/// Goal line more in sight at one post, the worse one, than from the same depth on the puck line.
struct Opened {
    double length_m = 0.0;
    bool left = false; ///< the post on the goalie's left
};

struct Decision {
    Reading reading;
    bool on_post = false;               ///< the puck is too low for depth
    bool at_post = false;               ///< and the goalie is at the post
    std::vector<ThreatReading> threats; ///< one for each of the moment's
    std::optional<Advice> advice;       ///< none on the post
    double shot_open = 0.0;             ///< net open at a shot now
    double left = 0.0;                  ///< share of the net the play leaves from where he stands
    std::optional<double> gave_away;    ///< left less what D_best leaves; none on the post
    std::optional<OnWhatCame> on_what_came;
    std::optional<WithinReach> within_reach; ///< with a moment before
    /// Of a depth outside the stretch against D_best, both on the line; the passes' part.
    double cost = 0.0, pass_cost = 0.0;
    std::optional<Opened> opened; ///< by standing off the puck line; none from behind the goal line
    Verdict verdict = Verdict::not_judged;
};

/// Everything that one moment says.
///
/// Right depth within the tolerance of the advised stretch, and wherever his depth gave away no more than is
/// worth acting on: who is blamed has given something away. Deeper: sat back. Further out: over-challenged when
/// passes are more than half of what it cost, else too far out. One thing is blamed without net given away:
/// further out than the situation allows gives away the way back, to what nobody marked. Nearer to the puck
/// than the gap is never advised, yet as good as what it leaves.
/// At the right depth but beside the line by more than lets a post open by the angle tolerance: off angle.
/// After another moment the stretch begins no further out than he could be (see WithinReach); where not even
/// the line was in reach, beaten across in place of sat back and off angle. On the post: right depth or off the
/// post. Not judged: a place that is no number.
/// Notes   `next` and who took the pass enter `on_what_came` alone. The stretch in `advice` is the one that
///         was judged: its inner end is lowered to what was within reach.
Decision decide(const MarkedMoment& moment, const RuleBook& rules, const Parameters& parameters);

/// Out     none when the puck is on or behind the goal line.
std::optional<Opened> opened_off_line(IcePoint goalie, IcePoint puck, const RuleBook& rules,
                                      const Parameters& parameters);

/// The verdict alone, without the figures beside it: what firmness asks two hundred times.
Verdict verdict_of(const MarkedMoment& moment, const RuleBook& rules, const Parameters& parameters);

std::string_view key_of(Verdict value);
std::string_view label_of(Verdict value); ///< "right depth"
std::optional<Verdict> verdict_from_key(std::string_view key);
std::string_view key_of(NextAction value);
std::optional<NextAction> next_action_from_key(std::string_view key);

} // namespace ropeline
