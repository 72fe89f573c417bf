// The game clock along a film: what a coach read off it at some frames, and what it shows in between.
// Pure: seconds of film time (of the stream) and seconds left in the period.
#pragma once

#include "season/records.h"

#include <optional>
#include <vector>

namespace ropeline {

/// What the clock shows in one frame.
struct GameTime {
    int period = 1;
    double clock_s = 0.0;  ///< left in the period
    bool standing = false; ///< the clock does not move here: a stoppage, or the period is over
};

/// The clock at a film time: a running mark counts down a second a second, and never past the next mark of
/// its period (where play stopped unnoticed in between, the clock stands there until then) nor past 0:00.
/// Before the first mark it counts up from it, to 20:00 at most. A new period starts at its own mark.
/// In      the marks of one film, in any order.
/// Out     nothing without marks.
/// Source  periods of 20 minutes, the clock counts down: NHL Rule 77.1, IIHF, USA Hockey, Hockey Canada (from
///         memory). Youth periods are shorter; then the limit is never met.
std::optional<GameTime> game_time_at(const std::vector<ClockMark>& of_a_film, double film_s);

/// The inverse: the first film time at which the clock shows it. Where the clock jumps over it between two
/// marks of its period (a film that was cut), the film time of the mark after the jump; for a whole period
/// left, when it begins.
/// Out     nothing when the marks never show it. May lie before the film's first frame or after its last.
std::optional<double> film_s_at(const std::vector<ClockMark>& of_a_film, int period, double clock_s);

/// The mark that `wanted` cannot be true beside, the nearest in the film: the clock would rise within a
/// period, or a period would come before an earlier one. A mark at the same frame is the one it replaces and
/// never contradicts.
/// Out     nothing when all is well.
std::optional<ClockMark> contradicted(const std::vector<ClockMark>& of_a_film, const ClockMark& wanted);

} // namespace ropeline
