// A play's figures, worked out from its marks and the rink fits that are there, and kept.
#pragma once

#include "desk/state/log_context.h"
#include "desk/state/rink_here.h"

#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>

namespace ropeline {

/// Places, reading and their uncertainty of one moment; judge_play() goes on from there.
void work_out(const LogState& state, const Shot& shot, Moment& moment);
void judge_play(const LogState& state, ShotEntry& entry);

/// Works the moment in hand out and keeps its play, as a change of that name. A rink fit carried to the moment's
/// frame is kept in a row of its own.
void keep_moment(LogContext& log, const std::string& name);
/// A play that gained or lost a moment is judged anew, in the same change as `also`.
void keep_play(LogContext& log, const std::string& name, ShotEntry& entry, const std::function<void()>& also);

/// How the rink lies for a moment.
struct RinkThere {
    FitHere::Source source{};
    Id key_id;
    std::optional<RinkFit> fit;
};
/// For every marked moment on the film on screen, by id.
std::map<Id, RinkThere> rink_of_moments(const LogState& state);
/// The moments for which it lies otherwise now.
std::set<Id> with_another_rink(const std::map<Id, RinkThere>& before, const LogState& now);
/// Works these moments of the film on screen out again, judges their plays and puts what came out otherwise, in
/// the change under way.
void work_out_again(LogContext& log, const std::set<Id>& moments);
/// "shot 3, shot 7": those that have a mark which by the rink fit lies on no ice; empty when none has.
std::string shots_off_the_ice(const LogState& state);

} // namespace ropeline
