// What it takes to follow the marks of one moment to the frame on screen.
#pragma once

#include "desk/state/log_state.h"
#include "follow/mark_follower.h"

namespace ropeline {

/// No farther apart are two frames between which marks are followed, in seconds.
constexpr double furthest_followed_s = 2.5;

/// In      `frames_per_second` of the open film.
/// Out     nothing where there is nothing to follow: no moment to start from, it lies in this frame, too far away or on
///         another film, or the rink is not known all the way. Path and index are still to be filled in.
std::optional<FollowJob> follow_job(const LogState& state, std::int64_t frame, double frames_per_second);

/// Laid out as `follow_job` asked for them.
FollowedTo followed_to(const Moment& from, std::int64_t frame, const FollowedMarks& marks);

} // namespace ropeline
