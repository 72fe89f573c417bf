// A shot with its moments as the decision model sees it: who could take a pass, what was done next, whether
// the goalie stood still; and what the model says of it, put back into the records.
#pragma once

#include "depth/reason.h"
#include "season/season_file.h"

#include <span>

namespace ropeline {

/// A moment as the model takes it. `moment.threats` looks into `threats`: move it, never copy it.
struct AskedMoment {
    AskedMoment() = default;
    AskedMoment(AskedMoment&&) = default;
    AskedMoment& operator=(AskedMoment&&) = default;

    std::vector<Threat> threats;
    std::vector<std::size_t> marks; ///< which of the moment's marks each threat is
    std::vector<double> spread;     ///< joint covariance of the marks, as firmness_of() takes it
    MarkedMoment moment;
};

/// A step of the play, and not what a second camera saw of one.
inline bool is_step(const Moment& moment) {
    return moment.same_as.empty();
}

/// In      `play`: the shot's moments, in the order of the film, `moment` among them (by id) or a variant of it.
/// Out     nothing unless goalie and puck lie on the ice; nothing for what a second camera saw.
std::optional<AskedMoment> asked_of(const Shot& shot, std::span<const Moment> play, const Moment& moment);

/// The moment a shot is about: its last release, else its last moment. Null without any.
const Moment* main_moment(std::span<const Moment> play);

/// What the carrier did after it: a pass for the moment of a pass; what came for the main moment, save that a
/// release after the moment of the pass that came is the shot; else not known.
std::optional<NextAction> next_action(const Shot& shot, std::span<const Moment> play, const Moment& moment);

/// Fills in, for every moment that has a reading, what each pass would cost, what the model says of the
/// decision, whether the goalie stood still at the release, and whether angle came before depth over it and the
/// two moments before; clears them where there is none. The reviewer's overruling stays. What a second camera saw is
/// passed over: it has positions and a reading, and no verdict. How firm a verdict is stays where the decision stays.
/// In      `play` in the order of the film, ordinals set.
void judge(const Shot& shot, std::vector<Moment>& play, const RuleBook& rules, const Parameters& parameters);

/// How firm each verdict is, where that is not known yet: about ten milliseconds a moment.
void find_firmness(const Shot& shot, std::vector<Moment>& play, const RuleBook& rules,
                   const Parameters& parameters, Level level);

} // namespace ropeline
