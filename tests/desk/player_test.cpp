#include "desk/state/player.h"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <string>

using namespace ropeline;

namespace {

/// 30 fps for a second, then a frame held for half a second, then 60 fps: as phones write it.
FrameTable uneven() {
    std::vector<Pts> pts;
    for (int frame = 0; frame < 30; ++frame)
        pts.push_back({frame * 2});
    for (int frame = 0; frame < 60; ++frame)
        pts.push_back({88 + frame});
    return {pts, {1, 60}};
}

} // namespace

TEST_CASE("stepping goes frame by frame and stops at both ends") {
    const FrameTable table = uneven();
    Player player;
    CHECK(number(stepped(player, -1, table).frame) == 0);
    player = stepped(player, 29, table);
    CHECK(number(stepped(player, 1, table).frame) == 30);
    CHECK(number(stepped(player, 1000, table).frame) == 89);
    CHECK(stepped(player, -1, table).direction == -1);
}

TEST_CASE("a second is a second of film, whatever the frame rate there") {
    const FrameTable table = uneven();
    Player player = at_frame({}, 30, table); // 88/60 s
    CHECK(number(moved(player, 0.5, table).frame) == 60);
    CHECK(number(moved(player, -1.0, table).frame) == 14); // 28/60 s
}

TEST_CASE("running shows the frame of the film's own time and stops by itself at the ends") {
    const FrameTable table = uneven();
    Player player = ticked({}, 10.0, table);
    player = toggled(player, 1, table);
    player = ticked(player, 10.51, table);
    CHECK(number(player.frame) == 15);
    player = ticked(player, 11.2, table); // 1.2 s into the film: inside the held frame
    CHECK(number(player.frame) == 29);
    player = ticked(player, 100.0, table);
    CHECK(number(player.frame) == 89);
    CHECK_FALSE(player.playing);
    player = toggled(player, -1, table);
    player = ticked(player, 100.5, table);
    CHECK(std::abs(number(player.frame) - 59) <= 1);
    CHECK(player.direction == -1);
    CHECK_FALSE(toggled(player, -1, table).playing);
    CHECK(toggled(player, 1, table).playing);
    CHECK(number(ticked(player, 200.0, table).frame) == 0);
    CHECK(number(running(ticked(player, 200.0, table), -1, table).frame) == 89);
}

TEST_CASE("the tempo halves down to an eighth, also while the film runs") {
    const FrameTable table = uneven();
    Player player = running({}, 1, table);
    for (const char* words : {"1/2", "1/4", "1/8", "1"}) {
        player = slowed(player);
        CHECK(std::string(tempo_words(player.tempo)) == words);
    }
    player = slowed(player);
    player = ticked(player, 1.001, table); // half a second of film
    CHECK(number(player.frame) == 15);
    player = slowed(player);
    player = ticked(player, 1.401, table); // another tenth
    CHECK(number(player.frame) == 18);
}

TEST_CASE("a loop begins again when its last frame has been shown, and ends when the coach steps") {
    const FrameTable table = uneven();
    Player player;
    player.now_s = 10.0;
    player = looping(player, 0.5, 1.0, table);
    CHECK(player.playing);
    CHECK(number(player.frame) == 15); // 30/60 s
    player = ticked(player, 10.21, table);
    CHECK(number(player.frame) == 21);    // 42.6/60 s
    player = ticked(player, 11.2, table); // past 1.0 s and the frame held there
    CHECK(number(player.frame) == 15);
    player = ticked(player, 11.41, table);
    CHECK(number(player.frame) == 21);
    player = stepped(player, 1, table);
    CHECK_FALSE(player.loop);
    player = running(player, 1, table);
    player = ticked(player, 100.0, table);
    CHECK(number(player.frame) == 89); // no loop any more: to the end of the film
}

TEST_CASE("backwards a loop begins again at its end, and a loop at the film's end does not stop there") {
    const FrameTable table = uneven();
    Player player = looping({}, 0.5, 0.9, table);
    player = toggled(player, -1, table);
    CHECK(number(player.frame) == 15);
    player = ticked(player, 0.1, table);
    CHECK(number(player.frame) == number(table.shown_at(0.9)));
    player = looping({}, 2.0, 99.0, table);
    const auto start = number(player.frame);
    player = ticked(player, 5.0, table);
    CHECK(player.playing);
    CHECK(number(player.frame) == start);
}

TEST_CASE("the tempo doubles up to eight times, also while the film runs, and slower leads back") {
    const FrameTable table = uneven();
    Player player = running({}, 1, table);
    for (const char* words : {"2", "4", "8", "1", "2"}) {
        player = sped(player);
        CHECK(std::string(tempo_words(player.tempo)) == words);
    }
    player = ticked(player, 0.251, table); // half a second of film
    CHECK(number(player.frame) == 15);
    CHECK(player.clock.speed == 2.0);
    player = slowed(player);
    CHECK(player.clock.speed == 1.0);
    CHECK(std::string(tempo_words(slowed(player).tempo)) == "1/2");
    CHECK(std::string(tempo_words(sped(slowed(player)).tempo)) == "1");
}

TEST_CASE("a film that runs faster than it was shot shows some thirty pictures a second, and every frame "
          "otherwise") {
    const FrameTable table = uneven();
    Player player = running({}, 1, table);
    CHECK(frames_a_picture(player, 30.0) == 1);
    CHECK(frames_a_picture(slowed(player), 60.0) == 1);
    player = sped(sped(sped(player)));
    CHECK(frames_a_picture(player, 30.0) == 8);
    CHECK(frames_a_picture(player, 60.0) == 16);
    CHECK(frames_a_picture(player, 8.0) == 2);
    CHECK(frames_a_picture(player, 1.0) == 1);
    player.frame = FrameIndex{43};
    CHECK(number(picture_due(player, 8)) == 40);
    CHECK(number(picture_due(player, 1)) == 43);
    CHECK(frames_a_picture(held(player), 30.0) == 1); // where it stands it is the very frame
}

TEST_CASE(
    "a tempo picked by the mouse is any of the seven, and a running film goes on at it from where it is") {
    const FrameTable frames = uneven();
    Player player = running(Player{}, 1, frames);
    player = ticked(player, 1.0, frames);
    const FrameIndex before = player.frame;
    for (int tempo = slowest_tempo; tempo >= fastest_tempo; --tempo) {
        player = with_tempo(player, tempo);
        CHECK(player.tempo == tempo);
        CHECK(player.frame == before);
        CHECK(player.playing);
        CHECK(player.clock.speed == doctest::Approx(std::ldexp(1.0, -tempo)));
    }
}
