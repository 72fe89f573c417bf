#include "film/clock.h"

#include <cmath>

namespace ropeline {

namespace {

// Length of the frame on screen; the last one is as long as the one before it.
double length_of(const FrameTable& frames, FrameIndex frame) {
    const std::int64_t last = frames.count() - 1;
    if (last < 1) return 0.0;
    const FrameIndex first = frames.clamp(number(frame) < last ? number(frame) : last - 1);
    return frames.seconds_of(FrameIndex{number(first) + 1}) - frames.seconds_of(first);
}

double end_of(const FrameTable& frames) {
    const FrameIndex last = frames.clamp(frames.count() - 1);
    return frames.seconds_of(last) + length_of(frames, last);
}

} // namespace

PlayClock play_from(const FrameTable& frames, FrameIndex frame, double speed, double now_s) {
    // Backward the frame is left at its own start, so playing begins at its end: all but the instant that is
    // the next one's.
    const double start = frames.seconds_of(frame);
    const double from = speed < 0.0 ? std::nextafter(start + length_of(frames, frame), start) : start;
    return {now_s, from, speed};
}

double film_time(const PlayClock& clock, double now_s) {
    return clock.from_s + (now_s - clock.started_s) * clock.speed;
}

Due due(const PlayClock& clock, const FrameTable& frames, double now_s) {
    const double time = film_time(clock, now_s);
    const bool at_end = clock.speed < 0.0 ? time < frames.seconds_of(FrameIndex{0}) : time >= end_of(frames);
    return {frames.shown_at(time), at_end};
}

PlayClock at_speed(const PlayClock& clock, double speed, double now_s) {
    return {now_s, film_time(clock, now_s), speed};
}

PlayClock led_by_sound(const PlayClock& clock, double heard_s, double now_s, double tolerance_s) {
    if (std::abs(film_time(clock, now_s) - heard_s) <= tolerance_s) return clock;
    return {now_s, heard_s, clock.speed};
}

} // namespace ropeline
