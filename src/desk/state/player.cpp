#include "desk/state/player.h"

namespace ropeline {

namespace {

Player shown(Player player, FrameIndex frame) {
    player.direction = frame > player.frame ? 1 : frame < player.frame ? -1 : player.direction;
    player.frame = frame;
    return player;
}

} // namespace

Player stepped(Player player, std::int64_t frames, const FrameTable& table) {
    player.playing = false;
    return shown(player, table.clamp(number(player.frame) + frames));
}

Player moved(Player player, double seconds, const FrameTable& table) {
    constexpr double rounding_s = 1e-6; // far under a frame; keeps a frame that begins exactly there
    player.playing = false;
    return shown(player, table.shown_at(table.seconds_of(player.frame) + seconds + rounding_s));
}

Player at_frame(Player player, std::int64_t frame, const FrameTable& table) {
    player.playing = false;
    return shown(player, table.clamp(frame));
}

Player toggled(Player player, double speed, const FrameTable& table) {
    player.playing = !player.playing || player.speed != speed;
    player.speed = speed;
    player.film_s = table.seconds_of(player.frame);
    return player;
}

Player ticked(Player player, double elapsed_s, const FrameTable& table) {
    if (!player.playing) return player;
    player.film_s += elapsed_s * player.speed;
    const double first = table.seconds_of(FrameIndex{0});
    const double last = table.seconds_of(FrameIndex{table.count() - 1});
    if (player.film_s <= first && player.speed < 0.0) player.playing = false;
    if (player.film_s >= last && player.speed > 0.0) player.playing = false;
    return shown(player, table.shown_at(player.film_s));
}

} // namespace ropeline
