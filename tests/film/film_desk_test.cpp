#include "film/film_desk.h"

#include <doctest/doctest.h>

#include <chrono>
#include <fstream>
#include <functional>
#include <thread>

#include "film/clips.h"

using namespace ropeline;

namespace {

bool wait_until(const std::function<bool()>& ready) {
    for (int i = 0; i < 4000; ++i) {
        if (ready()) return true;
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    return false;
}

} // namespace

TEST_CASE("the desk's film hands out each wished frame, the same as the reader's") {
    const clips::Folder folder;
    const std::string path = folder.file("film.mp4");
    clips::ffmpeg("-f lavfi -i testsrc2=s=192x108:r=30:d=4 -c:v libx264 -g 50 -bf 2 " + clips::quoted(path));
    FilmReader truth(path, {.threads = clips::decoder_threads});
    FilmDesk desk(path, {.cache_bytes = 20 * 192 * 108 * 3 / 2, .threads = clips::decoder_threads});
    REQUIRE(wait_until([&] { return desk.state() != FilmDesk::State::opening; }));
    REQUIRE(desk.state() == FilmDesk::State::ready);
    REQUIRE(desk.frames()->count() == 120);
    int direction = 0;
    for (const std::int64_t i : {0, 1, 2, 90, 89, 88, 87, 60, 119, 3, 49, 50, 51, 50, 49, 118, 0}) {
        const FrameIndex frame{i};
        desk.want(frame, direction);
        REQUIRE(wait_until([&] { return desk.cached(frame) != nullptr; }));
        CHECK(desk.cached(frame)->md5() == truth.picture(frame)->md5());
        direction = direction == 1 ? -1 : direction + 1;
    }
}

TEST_CASE("a burst of wishes ends at the last one, and closing does not wait for work") {
    const clips::Folder folder;
    const std::string path = folder.file("film.mp4");
    clips::ffmpeg("-f lavfi -i testsrc2=s=320x180:r=30:d=10 -c:v libx264 -g 300 " + clips::quoted(path));
    FilmDesk desk(path, {.threads = clips::decoder_threads});
    REQUIRE(wait_until([&] { return desk.state() == FilmDesk::State::ready; }));
    for (int i = 0; i < 2000; ++i)
        desk.want(FrameIndex{i * 37 % 300}, i % 3 - 1);
    desk.want(FrameIndex{299}, -1);
    CHECK(wait_until([&] { return desk.cached(FrameIndex{299}) != nullptr; }));
    desk.want(FrameIndex{5}, 0);
}

TEST_CASE("a film that cannot be opened is one line") {
    const clips::Folder folder;
    std::ofstream(folder.file("notes.mp4")) << "these are notes about a game, not the game";
    FilmDesk desk(folder.file("notes.mp4"));
    REQUIRE(wait_until([&] { return desk.state() == FilmDesk::State::failed; }));
    CHECK(desk.error().find("is not a film this program can read") != std::string::npos);
    CHECK(desk.facts() == nullptr);
    CHECK(desk.frames() == nullptr);
}

TEST_CASE(
    "a film run at eight times its pace shows the frames of its stride, exact, and leaves others undecoded") {
    const clips::Folder folder;
    const std::string path = folder.file("film.mp4");
    clips::ffmpeg("-f lavfi -i testsrc2=s=192x108:r=30:d=10 -c:v libx264 -g 300 -bf 3 " +
                  clips::quoted(path));
    FilmReader truth(path, {.threads = clips::decoder_threads});
    FilmDesk desk(path, {.threads = clips::decoder_threads});
    REQUIRE(wait_until([&] { return desk.state() == FilmDesk::State::ready; }));
    for (std::int64_t i = 0; i < 300; i += 8) {
        const FrameIndex frame{i};
        desk.want(frame, 1, 8);
        REQUIRE(wait_until([&] { return desk.cached(frame) != nullptr; }));
        CHECK(desk.cached(frame)->md5() == truth.picture(frame)->md5());
    }
    int passed_over = 0;
    for (std::int64_t i = 0; i < 300; ++i)
        passed_over += desk.cached(FrameIndex{i}) ? 0 : 1;
    CHECK(passed_over > 50);
    for (const std::int64_t i : {297, 131, 132, 130}) { // held, every frame is to be had again
        desk.want(FrameIndex{i}, 0);
        REQUIRE(wait_until([&] { return desk.cached(FrameIndex{i}) != nullptr; }));
        CHECK(desk.cached(FrameIndex{i})->md5() == truth.picture(FrameIndex{i})->md5());
    }
}
