// Likely chances in whole films: rendered games, with all that tests/chances/made_game.h says they have, and the demo.
#include "chances/film_looker.h"
#include "chances/made_game.h"

#include "demo/filming.h"
#include "film/clips.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>

using namespace ropeline;

namespace {

FilmMarks looked_through(const std::string& path) {
    FilmLooker film(path, {}, -1e9);
    while (film.look()) {
    }
    film.listen_to(film.film_last_s());
    return marks_of(film.looks(), film.heard(), film.heard_from_s());
}

struct ChanceScore {
    std::size_t chances = 0, found = 0, idle = 0;
    double idle_a_minute = 0.0;
};

ChanceScore score_of(const std::vector<LikelyChance>& marks, const std::vector<double>& chances_s,
                     double length_s) {
    constexpr double within_s = 3.0;
    ChanceScore score;
    score.chances = chances_s.size();
    for (const double at : chances_s)
        score.found += std::ranges::any_of(
            marks, [&](const LikelyChance& one) { return std::abs(one.at_s - at) <= within_s; });
    for (const LikelyChance& one : marks)
        score.idle +=
            std::ranges::none_of(chances_s, [&](double at) { return std::abs(one.at_s - at) <= within_s; });
    score.idle_a_minute = static_cast<double>(score.idle) / (length_s / 60.0);
    return score;
}

bool all_of_it() {
    return std::getenv("ROPELINE_LONG_TESTS") != nullptr;
}

ChanceScore score_of_game(const GameWanted& wanted) {
    const clips::Folder folder;
    const MadeGame game(wanted);
    game.write(folder.file("game.mp4"));
    const FilmMarks marks = looked_through(folder.file("game.mp4"));
    const ChanceScore score = score_of(marks.chances, game.truth().chances_s, wanted.length_s);
    MESSAGE("seed " << wanted.seed << ": " << score.found << " of " << score.chances << " chances, "
                    << score.idle_a_minute << " marks a minute without one");
    return score;
}

} // namespace

TEST_CASE("a made game has cuts, replays, close-ups, a second camera, whistles, and chances with the net in "
          "the picture") {
    const MadeGame game({.seed = 3, .length_s = 240.0, .chances = 5, .rate_hz = 10});
    const GameTruth& truth = game.truth();
    for (const auto camera : {GamePiece::Camera::main, GamePiece::Camera::replay, GamePiece::Camera::close_up,
                              GamePiece::Camera::other}) {
        CHECK(std::ranges::any_of(game.pieces(), [&](const GamePiece& one) { return one.camera == camera; }));
    }
    CHECK(std::ranges::any_of(game.pieces(), &GamePiece::dissolves));
    CHECK(truth.whistles_s.size() >= 3);
    CHECK(truth.chances_s.size() >= 4);
    CHECK_FALSE(truth.whistles_of_crowd.empty());
    CHECK_FALSE(truth.swells_s.empty());
    CHECK_FALSE(truth.still.empty());
    int net = 0, none = 0;
    for (int frame = 0; frame < game.frames(); frame += 5)
        ++(game.net_in_picture(frame) ? net : none);
    CHECK(net > 60);
    CHECK(none > 60); // the net is not simply always there
    for (const double at : truth.chances_s)
        CHECK(game.net_in_picture(static_cast<int>(10.0 * at)));
}

TEST_CASE(
    "in made games nineteen of twenty chances lie within three seconds of a mark, and few marks have none") {
    std::vector<GameWanted> games{{.seed = 3, .length_s = 60.0, .chances = 2, .rate_hz = 5}};
    if (all_of_it()) {
        games = {{.seed = 301, .rate_hz = 10}, {.seed = 302, .rate_hz = 10}, {.seed = 101}};
    }
    ChanceScore sum;
    for (const GameWanted& wanted : games) {
        const ChanceScore score = score_of_game(wanted);
        sum.chances += score.chances;
        sum.found += score.found;
        CHECK(score.idle_a_minute <= 2.0);
    }
    CHECK(static_cast<double>(sum.found) >= 0.95 * static_cast<double>(sum.chances));
}

// A chance every five seconds, no sound, and one camera that never moves: the likely chances are those with most going on.
TEST_CASE("in the demo's minute, which is one chance after the other, three of four are marked and hardly "
          "anything else") {
    const demo::Play play = demo::make_play(1, !all_of_it());
    const clips::Folder folder;
    for (const bool end_zone : {true, false}) {
        CAPTURE(end_zone);
        auto cameras = end_zone ? demo::end_zone_cameras(play) : demo::bench_side_cameras(play);
        if (!all_of_it()) {
            for (demo::PinholeCamera& camera : cameras) {
                camera.size = {320, 180};
                camera.focal_px /= 4.0;
            }
        }
        const std::string path = folder.file(end_zone ? "end.mp4" : "side.mp4");
        demo::write_film(path, play, cameras, 1, [](int, int) {});
        std::vector<double> chances_s;
        for (const demo::Chance& chance : play.chances)
            chances_s.push_back(static_cast<double>(chance.moments.back().frame) / demo::film_rate_hz);
        const double length_s = static_cast<double>(play.frames.size()) / demo::film_rate_hz;
        const FilmMarks marks = looked_through(path);
        const ChanceScore score = score_of(marks.chances, chances_s, length_s);
        MESSAGE(std::string(end_zone ? "end zone: " : "bench side: ")
                << score.found << " of " << score.chances << ", " << score.idle << " marks without one");
        CHECK(static_cast<double>(score.found) >= 0.75 * static_cast<double>(score.chances));
        CHECK(static_cast<double>(score.idle) <= 2.0 * std::max(1.0, length_s / 60.0));
    }
}
