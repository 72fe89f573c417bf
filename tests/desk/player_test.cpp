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
