// The playhead: which frame is shown and how time moves it. Pure: no window, no decoder; the time of the wall
// goes in.
#pragma once

#include "film/clock.h"
#include "film/frame_table.h"

#include <optional>

namespace ropeline {

/// A stretch of film that is run again and again.
struct Loop {
    FrameIndex first{}, last{};
};

struct Player {
    FrameIndex frame{};
    int direction = 0; ///< of the last move: -1, 0, +1; guides what is decoded ahead
    bool playing = false;
    int tempo = 0;            ///< running speed is 1 / 2^tempo: 8, 4, 2, 1, 1/2, 1/4, 1/8
    PlayClock clock;          ///< while playing
    std::optional<Loop> loop; ///< until the coach goes elsewhere by hand
    double now_s = 0.0;       ///< time of the wall, as ticked() was told
};

constexpr int slowest_tempo = 3, fastest_tempo = -3;

Player stepped(Player player, std::int64_t frames, const FrameTable& table);
/// By film time: the frame shown `seconds` from the one shown now.
Player moved(Player player, double seconds, const FrameTable& table);
Player at_frame(Player player, std::int64_t frame, const FrameTable& table);
/// Runs forward (+1) or backward (-1) at the tempo set; at one end of the film it starts from the other.
Player running(Player player, int way, const FrameTable& table);
Player held(Player player);
/// Runs that way, or holds when it already does.
Player toggled(Player player, int way, const FrameTable& table);
/// A running film goes on from where it is.
Player with_tempo(Player player, int tempo);
/// The next slower tempo, then 1 again.
Player slowed(Player player);
/// The next faster one, then 1 again.
Player sped(Player player);
/// Frames from one that is shown to the next: every frame, but at more than full speed no more than some thirty a
/// second, so that the others need not be decoded.
std::int64_t frames_a_picture(const Player& player, double rate_hz);
/// The last frame at or before the player's that is one of these.
FrameIndex picture_due(const Player& player, std::int64_t frames_a_picture);
/// Runs the stretch from `first_s` to `last_s` of film time over and over, from its start.
Player looping(Player player, double first_s, double last_s, const FrameTable& table);
/// The wall's time is now `now_s`. Stops by itself at either end of the film; in a loop it begins again.
Player ticked(Player player, double now_s, const FrameTable& table);

/// "8", "4", "2", "1", "1/2", "1/4", "1/8".
const char* tempo_words(int tempo);

} // namespace ropeline
