#include "desk/state/film_preview.h"

#include "film/clips.h"

#include <doctest/doctest.h>

#include <chrono>
#include <optional>
#include <thread>

using namespace ropeline;

namespace {

void make_film(const std::string& path, int seconds) {
    clips::ffmpeg("-f lavfi -i testsrc=size=160x90:rate=30:duration=" + std::to_string(seconds) +
                  " -c:v libx264 -g 30 -pix_fmt yuv420p " + clips::quoted(path));
}

std::optional<FilmPreview::Seen> awaited(FilmPreview& preview) {
    while (preview.awaited()) {
        if (auto seen = preview.take()) return seen;
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    return preview.take();
}

} // namespace

TEST_CASE("the preview shows the frame under the cursor, or one that is at hand close before it") {
    const clips::Folder folder;
    make_film(folder.file("film.mp4"), 4);
    FilmPreview preview(folder.file("film.mp4"), {});
    preview.ask(FrameIndex{70}, 0);
    const auto exact = awaited(preview);
    REQUIRE(exact);
    CHECK(number(exact->frame) == 70);
    preview.ask(FrameIndex{70}, 20);
    const auto near = awaited(preview);
    REQUIRE(near);
    CHECK(number(near->frame) == 60);
}

TEST_CASE("a film that was replaced by a shorter one shows its own last frame under the cursor, and harms "
          "nothing") {
    const clips::Folder folder;
    make_film(folder.file("film.mp4"), 4);
    const std::vector<std::byte> index = FilmReader(folder.file("film.mp4")).index_to_keep();
    make_film(folder.file("film.mp4"), 1);
    FilmPreview preview(folder.file("film.mp4"), index);
    preview.ask(FrameIndex{119}, 0);
    const auto seen = awaited(preview);
    REQUIRE(seen);
    CHECK(number(seen->frame) == 29);
    CHECK_FALSE(preview.awaited());
}

TEST_CASE("a film that is gone shows nothing under the cursor") {
    FilmPreview preview("/nowhere/film.mp4", {});
    preview.ask(FrameIndex{10}, 0);
    CHECK_FALSE(awaited(preview));
}
