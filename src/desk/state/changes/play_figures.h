// A play's figures, worked out from its marks and the rink fits that are there, and kept.
#pragma once

#include "desk/state/log_context.h"

#include <functional>
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

/// Works every marked moment on the film on screen out again, in the change under way.
void work_film_out(LogContext& log);

} // namespace ropeline
