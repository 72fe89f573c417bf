// Which frame is due while a film plays, forward or backward, at full speed or slower. Pure: time goes in, a
// frame comes out. Times are those of the frames themselves, so films of varying rate play as they were shot
// and nothing drifts.
#pragma once

#include "film/frame_table.h"

namespace ropeline {

/// Speeds a coach chooses from; negative ones play backward.
constexpr double playing_speeds[] = {-1.0, -0.5, -0.25, -0.125, 0.125, 0.25, 0.5, 1.0};

struct PlayClock {
    double started_s = 0.0; ///< time of the wall (or of the sound) when playing began
    double from_s = 0.0;    ///< time in the film then, as FrameTable::seconds_of
    double speed = 1.0;
};

/// Playing from a frame. Going forward the frame stays for its own length, going backward the one before is
/// due first after that one's length: a step is as long as it was in front of the camera.
PlayClock play_from(const FrameTable& frames, FrameIndex frame, double speed, double now_s);

/// Time in the film at a time of the wall; may lie outside the film.
double film_time(const PlayClock& clock, double now_s);

struct Due {
    FrameIndex frame{};
    bool at_end = false; ///< the film has no more frames this way
};
Due due(const PlayClock& clock, const FrameTable& frames, double now_s);

/// The same place in the film at another speed.
PlayClock at_speed(const PlayClock& clock, double speed, double now_s);

/// Sound is the master while it plays: the film's time is set to that of the sample now heard, without a jump
/// when the two lie within `tolerance_s`, half a frame by default at 50 Hz.
PlayClock led_by_sound(const PlayClock& clock, double heard_s, double now_s, double tolerance_s = 0.01);

} // namespace ropeline
