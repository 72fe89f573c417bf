#include "desk/state/player.h"

#include <algorithm>
#include <cmath>

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
    player.loop.reset();
    return shown(player, table.clamp(number(player.frame) + frames));
}

Player moved(Player player, double seconds, const FrameTable& table) {
    constexpr double rounding_s = 1e-6; // far under a frame; keeps a frame that begins exactly there
    player.playing = false;
    player.loop.reset();
    return shown(player, table.shown_at(table.seconds_of(player.frame) + seconds + rounding_s));
}

Player at_frame(Player player, std::int64_t frame, const FrameTable& table) {
    player.playing = false;
    player.loop.reset();
    return shown(player, table.clamp(frame));
}

Player running(Player player, int way, const FrameTable& table) {
    const std::int64_t last = table.count() - 1;
    if (way > 0 && number(player.frame) == last) player.frame = FrameIndex{0};
    if (way < 0 && number(player.frame) == 0) player.frame = FrameIndex{last};
    player.playing = true;
    player.direction = way;
    player.clock = play_from(table, player.frame, way * std::ldexp(1.0, -player.tempo), player.now_s);
    return player;
}

Player held(Player player) {
    player.playing = false;
    return player;
}

Player toggled(Player player, int way, const FrameTable& table) {
    const bool already = player.playing && (player.clock.speed > 0.0) == (way > 0);
    return already ? held(player) : running(player, way, table);
}

Player with_tempo(Player player, int tempo) {
    player.tempo = tempo;
    if (player.playing) {
        const double speed = std::copysign(std::ldexp(1.0, -player.tempo), player.clock.speed);
        player.clock = at_speed(player.clock, speed, player.now_s);
    }
    return player;
}

Player slowed(Player player) {
    return with_tempo(player, player.tempo == slowest_tempo ? 0 : player.tempo + 1);
}

Player sped(Player player) {
    return with_tempo(player, player.tempo == fastest_tempo ? 0 : player.tempo - 1);
}

std::int64_t frames_a_picture(const Player& player, double rate_hz) {
    constexpr double pictures_hz = 30.0;
    const double speed = std::abs(player.clock.speed);
    if (!player.playing || speed <= 1.0) return 1;
    return std::max<std::int64_t>(1, std::llround(speed * rate_hz / pictures_hz));
}

FrameIndex picture_due(const Player& player, std::int64_t frames_a_picture) {
    return FrameIndex{number(player.frame) / frames_a_picture * frames_a_picture};
}

Player looping(Player player, double first_s, double last_s, const FrameTable& table) {
    const Loop loop{table.shown_at(first_s), table.shown_at(last_s)};
    player = running(shown(player, loop.first), 1, table);
    player.loop = loop;
    return player;
}

Player ticked(Player player, double now_s, const FrameTable& table) {
    player.now_s = now_s;
    if (!player.playing) return player;
    const Due next = due(player.clock, table, now_s);
    const bool forward = player.clock.speed > 0.0;
    if (player.loop &&
        (next.at_end || (forward ? next.frame > player.loop->last : next.frame < player.loop->first))) {
        player.frame = forward ? player.loop->first : player.loop->last;
        player.clock = play_from(table, player.frame, player.clock.speed, now_s);
        return player;
    }
    if (next.at_end) player.playing = false;
    return shown(player, next.frame);
}

const char* tempo_words(int tempo) {
    constexpr const char* words[] = {"8", "4", "2", "1", "1/2", "1/4", "1/8"};
    return words[tempo - fastest_tempo];
}

} // namespace ropeline
