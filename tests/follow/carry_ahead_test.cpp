// Clicked fits carried on a thread of their own: what one of them, the film or the memory refuses ends neither the
// others nor the program.
#include "follow/carry_ahead.h"

#include "carry/filmed.h"
#include "demo/filming.h"
#include "film/clips.h"
#include "film/film_writer.h"
#include "no_memory.h"

#include <doctest/doctest.h>

#include <chrono>
#include <optional>

using namespace ropeline;

namespace {

FilmedShot panning() {
    return {{-19.5, 13.0, 9.6},
            [](double s) {
                return Aim{{-1.0, 6.0 + 2.0 * s}, 575.0};
            },
            12,
            60,
            {.size = {640, 360}}};
}

const std::string& film() {
    static const clips::Folder folder;
    static const std::string path = [] {
        const FilmedShot pan = panning();
        FilmWriter writer(folder.file("pan.mp4"), {.width_px = 640, .height_px = 360});
        for (int frame = 0; frame < pan.count(); ++frame)
            writer.add(pan.picture(frame).rgb);
        writer.finish();
        return folder.file("pan.mp4");
    }();
    return path;
}

ClickedKey clicked(const std::string& id, int frame) {
    return {id, {demo::demo_rules, clicked_fit(panning().camera(frame), 0.0), frame}};
}

/// As if pixels were not square: no turning camera sees it so.
ClickedKey squashed(const std::string& id, int frame) {
    ClickedKey key = clicked(id, frame);
    for (std::size_t i = 0; i < 3; ++i)
        key.key.fit.image_from_ice[i] *= 0.3;
    return key;
}

void wait_for(const CarryAhead& carry) {
    while (!carry.finished())
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
}

} // namespace

TEST_CASE("a fit that no turning camera sees is told once, and the fits around it are carried") {
    CarryAhead carry({film(), {}, {clicked("before", 1), squashed("bad", 4), clicked("after", 8)}, {}});
    wait_for(carry);
    CHECK(carry.error().empty());
    const auto refused = carry.take_refused();
    REQUIRE(refused.size() == 1);
    CHECK(refused[0].id == "bad");
    CHECK(refused[0].frame == 4);
    CHECK_FALSE(refused[0].why.empty());
    CHECK(refused[0].why.find('\n') == std::string::npos);
    CHECK(carry.take_refused().empty());

    const auto done = carry.take_done();
    REQUIRE(done.size() == 2);
    CHECK(done[0].id == "before");
    CHECK(done[0].first_frame == 0);
    CHECK(done[0].frames.size() == 5); // as far as the next click
    CHECK(done[1].id == "after");
    CHECK(done[1].first_frame == 4);
    CHECK(done[1].frames.size() == 8); // to the end of the film
    for (const CarriedKey& key : done) {
        for (const CarriedFrame& frame : key.frames)
            CHECK(frame.state == CarryState::held);
    }
}

TEST_CASE("a fit of a frame that the film does not have is told, and the others are carried") {
    CarryAhead carry({film(), {}, {clicked("here", 2), {"gone", {{}, {}, std::int64_t{1} << 60}}}, {}});
    wait_for(carry);
    CHECK(carry.error().empty());
    const auto refused = carry.take_refused();
    REQUIRE(refused.size() == 1);
    CHECK(refused[0].id == "gone");
    REQUIRE(carry.take_done().size() == 1);
}

TEST_CASE("a fit that was carried before is left alone") {
    CarryAhead carry({film(), {}, {clicked("known", 2), clicked("new", 6)}, {"known"}});
    wait_for(carry);
    const auto done = carry.take_done();
    REQUIRE(done.size() == 1);
    CHECK(done[0].id == "new");
    CHECK(done[0].first_frame == 2);
}

TEST_CASE("a film that is gone ends the carrying with one line") {
    CarryAhead carry({"/nowhere/film.mp4", {}, {clicked("a", 2), clicked("b", 6)}, {}});
    wait_for(carry);
    CHECK(carry.error().find("/nowhere/film.mp4") != std::string::npos);
    CHECK(carry.error().find('\n') == std::string::npos);
    CHECK(carry.take_refused().empty());
    CHECK(carry.take_done().empty());
}

TEST_CASE("memory that runs out on the thread ends the carrying, never the program") {
    const CarryJob job{film(), {}, {clicked("a", 2)}, {}};
    for (const long left : {0L, 1L, 2L, 5L, 10L, 30L, 100L, 300L, 1000L}) {
        CAPTURE(left);
        // Once: what goes on failing while a thread ends is OpenCV's to survive, and it does not.
        std::optional<sample::NoMemoryElsewhere> no_memory(std::in_place, left, 1);
        CarryAhead carry(job);
        wait_for(carry);
        no_memory.reset();
        CHECK(carry.error().find("memory") != std::string::npos);
        CHECK(carry.take_done().empty());
    }
}
