#include "film/clock.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace ropeline;

namespace {

// A phone's film: 25 frames a second, then 60, starting late.
FrameTable uneven() {
    std::vector<Pts> pts;
    for (std::int64_t i = 0; i < 50; ++i)
        pts.push_back({9000 + i * 3600});
    for (std::int64_t i = 0; i < 60; ++i)
        pts.push_back({9000 + 50 * 3600 + i * 1500});
    return {pts, {1, 90000}};
}

} // namespace

TEST_CASE("forward each frame is on screen for its own length, at every speed, without drift") {
    const FrameTable frames = uneven();
    for (const double speed : {1.0, 0.5, 0.25, 0.125}) {
        const PlayClock clock = play_from(frames, FrameIndex{0}, speed, 100.0);
        for (std::int64_t i = 0; i < frames.count(); ++i) {
            const double start = frames.seconds_of(FrameIndex{i}) - frames.seconds_of(FrameIndex{0});
            CHECK(due(clock, frames, 100.0 + (start + 0.004) / speed).frame == FrameIndex{i});
            CHECK_FALSE(due(clock, frames, 100.0 + (start + 0.004) / speed).at_end);
        }
    }
    CHECK(due(play_from(frames, FrameIndex{0}, 1.0, 0.0), frames, 3.1).at_end);
}

TEST_CASE("backward the frames come in the opposite order with the same lengths") {
    const FrameTable frames = uneven();
    const FrameIndex last{frames.count() - 1};
    for (const double speed : {1.0, 0.5, 0.25, 0.125}) {
        const PlayClock clock = play_from(frames, last, -speed, 7.0);
        CHECK(due(clock, frames, 7.0).frame == last);
        const double end = frames.seconds_of(last) + 1500.0 / 90000.0;
        for (std::int64_t i = frames.count() - 1; i >= 0; --i) {
            const double leaves = (end - frames.seconds_of(FrameIndex{i})) / speed;
            CHECK(due(clock, frames, 7.0 + leaves - 0.004).frame == FrameIndex{i});
        }
        CHECK(due(clock, frames, 7.0 + 3.1 / speed).at_end);
    }
}

TEST_CASE("a change of speed stays at the place, and sound pulls the film only when they part") {
    const FrameTable frames = uneven();
    const PlayClock clock = play_from(frames, FrameIndex{10}, 1.0, 0.0);
    CHECK(film_time(at_speed(clock, 0.25, 0.3), 0.3) ==
          doctest::Approx(film_time(clock, 0.3)).epsilon(1e-12));
    CHECK(film_time(led_by_sound(clock, film_time(clock, 1.0) + 0.005, 1.0), 1.0) == film_time(clock, 1.0));
    CHECK(film_time(led_by_sound(clock, 1.5, 1.0), 1.0) == 1.5);
}
