// What is shown when, without a film: frame tables made by hand.
#include "reel/time_line.h"

#include <doctest/doctest.h>

namespace ropeline {
namespace {

/// A film at 30 a second.
FrameTable film_of(std::int64_t frames) {
    std::vector<Pts> pts;
    for (std::int64_t frame = 0; frame < frames; ++frame)
        pts.push_back({512 * frame + 1024});
    return {pts, {1, 15360}};
}

ShownPlay play_at(std::initializer_list<std::int64_t> frames) {
    ShownPlay play;
    for (const std::int64_t frame : frames) {
        ShownMoment shown;
        shown.moment.frame = frame;
        shown.moment.ordinal = static_cast<int>(play.moments.size());
        shown.moment.kind = frame == *(frames.end() - 1) ? MomentKind::release : MomentKind::pass;
        play.moments.push_back(shown);
    }
    return play;
}

std::int64_t run_together(const std::vector<ReelPicture>& pictures, std::int64_t begins) {
    for (const ReelPicture& picture : pictures) {
        REQUIRE(picture.at == begins);
        REQUIRE(picture.length > 0);
        begins += picture.length;
    }
    return begins;
}

} // namespace

TEST_CASE("a play runs up, freezes at each moment, and goes on at the speed asked for, without a gap") {
    const FrameTable film = film_of(300);
    const std::vector<ShownPlay> plays{play_at({100, 120})};
    const std::vector<const FrameTable*> frames{&film};
    const std::size_t of[] = {0};
    const ReelTiming timing{.run_up_s = 1.0, .freeze_s = 2.0, .after_s = 1.0, .speed_on = 0.5};
    const auto pieces = pieces_of(of, plays, frames, timing, 9000);
    REQUIRE(pieces.size() == 5);
    CHECK(pieces[0].kind == PieceKind::run);
    CHECK(number(pieces[0].shown[0].first) == 70);
    CHECK(number(pieces[0].shown[0].last) == 99);
    CHECK(pieces[0].length == 30 * 3000);
    CHECK(pieces[1].kind == PieceKind::freeze);
    CHECK(number(pieces[1].shown[0].first) == 100);
    CHECK(pieces[1].shown[0].moment == 0U);
    CHECK(pieces[1].length == 60 * 3000);
    CHECK(pieces[2].length == 20 * 6000); // the freeze's own frame runs too, at half speed
    CHECK(pieces[3].shown[0].moment == 1U);
    CHECK(number(pieces[4].shown[0].last) == 150);
    std::int64_t at = 9000;
    for (std::size_t index = 0; index < pieces.size(); ++index) {
        REQUIRE(pieces[index].begins == at);
        at = run_together(pictures_of(index, pieces[index], plays, frames), at);
        CHECK(at == pieces[index].begins + pieces[index].length);
    }
}

TEST_CASE("film of varying rate keeps the length of every frame") {
    const FrameTable film({{0}, {3000}, {9000}, {12000}, {15000}, {21000}}, {1, 90000});
    const std::vector<ShownPlay> plays{play_at({4})};
    const std::vector<const FrameTable*> frames{&film};
    const std::size_t of[] = {0};
    const auto pieces = pieces_of(of, plays, frames, {.run_up_s = 1.0, .freeze_s = 1.0}, 0);
    const auto pictures = pictures_of(0, pieces[0], plays, frames);
    REQUIRE(pictures.size() == 4);
    CHECK(pictures[0].length == 3000);
    CHECK(pictures[1].length == 6000);
    CHECK(pictures[2].at == 9000);
}

TEST_CASE("moments at the film's ends, in one frame, or none at all") {
    const FrameTable film = film_of(50);
    const std::vector<const FrameTable*> frames{&film};
    const std::size_t of[] = {0};
    SUBCASE("first and last frame") {
        const std::vector<ShownPlay> plays{play_at({0, 49})};
        const auto pieces = pieces_of(of, plays, frames, {}, 0);
        REQUIRE(pieces.size() == 4);
        CHECK(pieces[0].kind == PieceKind::freeze);
        CHECK(number(pieces[3].shown[0].last) == 49);
    }
    SUBCASE("two moments in one frame are both shown") {
        const std::vector<ShownPlay> plays{play_at({20, 20})};
        const auto pieces = pieces_of(of, plays, frames, {}, 0);
        REQUIRE(pieces.size() == 4);
        CHECK(pieces[1].kind == PieceKind::freeze);
        CHECK(pieces[2].kind == PieceKind::freeze);
    }
    SUBCASE("none: the film runs past the shot") {
        std::vector<ShownPlay> plays{ShownPlay{}};
        plays[0].shot.frame = 25;
        const auto pieces = pieces_of(of, plays, frames, {.run_up_s = 0.5, .after_s = 0.5}, 0);
        REQUIRE(pieces.size() == 1);
        CHECK(number(pieces[0].shown[0].first) == 10);
        CHECK(number(pieces[0].shown[0].last) == 40);
    }
    SUBCASE("a moment behind the end of a film that was cut is shown at its last frame") {
        const std::vector<ShownPlay> plays{play_at({80})};
        const auto pieces = pieces_of(of, plays, frames, {.run_up_s = 0.5}, 0);
        REQUIRE(pieces.size() == 3);
        CHECK(number(pieces[1].shown[0].first) == 49);
    }
}

TEST_CASE("two plays beside each other are at their own moment at the same time, whatever the films' rates") {
    const FrameTable film = film_of(300);
    std::vector<Pts> slow;
    for (std::int64_t frame = 0; frame < 250; ++frame)
        slow.push_back({frame});
    const FrameTable other(slow, {1, 25});
    const std::vector<ShownPlay> plays{play_at({100}), play_at({60, 80})};
    const std::vector<const FrameTable*> frames{&film, &other};
    const std::size_t of[] = {0, 1};
    const auto pieces = pieces_of(of, plays, frames, {.run_up_s = 1.0, .freeze_s = 1.0, .after_s = 1.0}, 0);
    REQUIRE(pieces.size() == 3);
    CHECK(number(pieces[1].shown[0].first) == 100);
    CHECK(number(pieces[1].shown[1].first) == 80);
    CHECK(pieces[1].shown[1].moment == 1U);
    const auto before = pictures_of(0, pieces[0], plays, frames);
    for (const ReelPicture& picture : before) { // seconds to the moment, within a frame of the slower film
        const double left_s = static_cast<double>(100 - number(picture.frames[0])) / 30.0,
                     right_s = static_cast<double>(80 - number(picture.frames[1])) / 25.0;
        CHECK(std::abs(left_s - right_s) < 1.0 / 25.0 + 1e-9);
    }
    const auto after = pictures_of(2, pieces[2], plays, frames);
    CHECK(number(after.front().frames[1]) == 80);
    CHECK(number(after.back().frames[1]) == 105);
}

} // namespace ropeline
