// Clicked fits carried on a thread of their own: what one of them, the film or the memory refuses ends neither the
// others nor the program.
#include "follow/carry_ahead.h"
#include "follow/rink_finder.h"

#include "carry/filmed.h"
#include "demo/filming.h"
#include "film/clips.h"
#include "film/film_writer.h"
#include "no_memory.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
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

/// A frame a second, so that a minute of film is short.
FilmedShot slow_pan() {
    return {{-19.5, 13.0, 9.6},
            [](double s) {
                return Aim{{-1.0, 6.0 + 1.2 * s}, 575.0};
            },
            60,
            60,
            {.size = {640, 360}}};
}

const std::string& slow_film() {
    static const clips::Folder folder;
    static const std::string path = [] {
        const FilmedShot pan = slow_pan();
        FilmWriter writer(folder.file("slow.mp4"), {.width_px = 640, .height_px = 360, .rate_numerator = 1});
        for (int frame = 0; frame < pan.count(); ++frame)
            writer.add(pan.picture(frame).rgb);
        writer.finish();
        return folder.file("slow.mp4");
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

/// How far off the middle of the net lies where the camera sees it.
double net_error_m(const RinkFit& fit, const demo::PinholeCamera& camera) {
    const auto there = ice_at(fit, demo::project(camera, demo::axes(camera), {0.0, 0.0, 0.0}).at);
    return there ? std::hypot(there->x_m, there->y_m) : 1e9;
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

TEST_CASE("beyond the first seconds a fit is carried on to both ends of the film, in stretches that join") {
    const FilmedShot pan = slow_pan();
    CarryAhead carry(
        {slow_film(), {}, {{"here", {demo::demo_rules, clicked_fit(pan.camera(30), 0.0), 30}}}, {}});
    wait_for(carry);
    CHECK(carry.error().empty());
    std::map<std::int64_t, CarryState> states;
    const auto done = carry.take_done();
    REQUIRE(done.size() == 3);
    CHECK(done[0].first_frame == 10); // twenty seconds either way
    CHECK(done[0].frames.size() == 41);
    for (const CarriedKey& stretch : done) {
        CHECK(stretch.id == "here");
        for (std::size_t i = 0; i < stretch.frames.size(); ++i) {
            const auto frame = stretch.first_frame + static_cast<std::int64_t>(i);
            CHECK(states.emplace(frame, stretch.frames[i].state).second); // no frame twice
            CHECK(net_error_m(stretch.frames[i].fit, pan.camera(static_cast<int>(frame))) < 0.05);
        }
    }
    CHECK(states.size() == 60);
    CHECK(std::ranges::all_of(states, [](const auto& one) { return one.second == CarryState::held; }));
}

TEST_CASE(
    "after the first seconds come those about the likely chances, wherever in the film, then the rest") {
    const FilmedShot pan = slow_pan();
    const KeyFit key{demo::demo_rules, clicked_fit(pan.camera(5), 0.0), 5};
    CarryAhead carry({slow_film(), {}, {{"here", key}}, {}, {50, 12, std::int64_t{1} << 40}});
    wait_for(carry);
    CHECK(carry.error().empty());
    const auto done = carry.take_done();
    REQUIRE(done.size() > 2);
    CHECK(done[0].first_frame == 0);
    CHECK(done[0].frames.size() == 26); // the chance at 12 is among them
    CHECK(done[1].id == "here");
    CHECK(done[1].first_frame == 44);
    REQUIRE(done[1].frames.size() == 13); // six seconds either way
    for (int i = 0; i < 13; ++i) {
        CHECK(done[1].frames[static_cast<std::size_t>(i)].state == CarryState::held);
        CHECK(net_error_m(done[1].frames[static_cast<std::size_t>(i)].fit, pan.camera(44 + i)) < 0.15);
    }
    CHECK(done[2].first_frame == 26);
    CHECK(done.back().first_frame + static_cast<std::int64_t>(done.back().frames.size()) == 60);
}

TEST_CASE("what was carried before is gone on from, and a film that is all known is left alone") {
    const FilmedShot pan = slow_pan();
    const KeyFit key{demo::demo_rules, clicked_fit(pan.camera(30), 0.0), 30};
    const KeyFit edge{demo::demo_rules, clicked_fit(pan.camera(50), 0.0), 50};
    CarryJob job{slow_film(), {}, {{"here", key, KnownStretch{0, 52, std::nullopt, edge}}}, {}};
    CarryAhead carry(job);
    wait_for(carry);
    const auto done = carry.take_done();
    REQUIRE(done.size() == 1);
    CHECK(done[0].first_frame == 53);
    CHECK(done[0].frames.size() == 7);
    for (const CarriedFrame& frame : done[0].frames)
        CHECK(frame.state == CarryState::held);

    const FilmReader film(slow_film());
    CHECK_FALSE(all_carried(film.frames(), job));
    job.keys[0].known->last = 59;
    CHECK(all_carried(film.frames(), job));
    job.keys[0].known = KnownStretch{5, 52, std::nullopt, std::nullopt}; // nothing held to go on from
    CHECK(all_carried(film.frames(), job));
    job.keys[0].known.reset();
    CHECK_FALSE(all_carried(film.frames(), job));
    job.left_out = {"here"};
    CHECK(all_carried(film.frames(), job));
}

TEST_CASE("the rink of a frame far from the fit is found on a thread") {
    const FilmedShot pan = slow_pan();
    FilmReader film(slow_film());
    RinkFinder finder(film.picture(FrameIndex{55}), film.facts(), {clicked_fit(pan.camera(5), 0.0)},
                      demo::demo_rules);
    while (!finder.finished())
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    const auto found = finder.take();
    REQUIRE(found);
    CHECK(net_error_m(found->frame.fit, pan.camera(55)) < 0.15);
    CHECK_FALSE(finder.take());
}

TEST_CASE("carrying that was stopped hands nothing out any more") {
    const FilmedShot pan = slow_pan();
    CarryAhead carry(
        {slow_film(), {}, {{"here", {demo::demo_rules, clicked_fit(pan.camera(30), 0.0), 30}}}, {}});
    while (!carry.finished() && carry.take_done().empty())
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    carry.stop();
    wait_for(carry);
    CHECK(carry.take_done().empty());
    CHECK(carry.error().empty());
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
