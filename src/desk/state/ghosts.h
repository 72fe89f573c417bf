// The marks of the moment before, laid into a frame that has none of its own yet: most start nearly right.
#pragma once

#include "desk/state/log_state.h"

namespace ropeline {

struct Ghost {
    MarkKind kind{};
    ImagePoint at;                              ///< in the frame asked for
    ReceiverKind receiver = ReceiverKind::stop; ///< of a threat, as in Mark
    Lane lane = Lane::open;
};

/// The moment whose marks are laid into this frame; null when the moment in hand lacks nothing, or belongs to another
/// film or frame.
const Moment* ghosts_from(const LogState& state, std::int64_t frame);

/// Do these places stand for the moment as it is marked now?
bool still_holds(const FollowedTo& followed, const Moment& moment, std::int64_t frame);

/// What the moment in hand still lacks, from the marked moment nearest to it: of its own play where there is
/// one, else the last one before it on this film. For a second camera's view: what the first camera saw.
/// In      `frame` of the open film; `image` the picture's size
/// Out     where a mark was followed to through the film; else carried by the rink as it lies in both frames; by the
///         bare pixel when no rink is known here.
///         Those outside the picture are left out. Empty when the moment in hand belongs to another film or frame.
std::vector<Ghost> ghosts(const LogState& state, std::int64_t frame, ImageSize image);

/// Those that the hand asks for now: both skates while a skate is asked for, all when the hand is empty.
std::vector<Ghost> ghosts_asked_for(const std::vector<Ghost>& all, Hand hand);

} // namespace ropeline
