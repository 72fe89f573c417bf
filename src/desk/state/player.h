// The playhead: which frame is shown and how time moves it. Pure: no window, no clock, no decoder.
#pragma once

#include "film/film.h"

namespace ropeline {

struct Player {
    FrameIndex frame{};
    int direction = 0; ///< of the last move: -1, 0, +1; guides what is decoded ahead
    bool playing = false;
    double speed = 1.0;  ///< film seconds a second while playing; negative runs backwards
    double film_s = 0.0; ///< where playing has got to, stream time
};

Player stepped(Player player, std::int64_t frames, const FrameTable& table);
/// By film time: the frame shown `seconds` from the one shown now.
Player moved(Player player, double seconds, const FrameTable& table);
Player at_frame(Player player, std::int64_t frame, const FrameTable& table);
Player toggled(Player player, double speed, const FrameTable& table);
/// `elapsed_s` of wall time went by. Stops by itself at either end.
Player ticked(Player player, double elapsed_s, const FrameTable& table);

} // namespace ropeline
