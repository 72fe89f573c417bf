// The short films of earlier games, without rendering them.
#include "demo/earlier_films.h"
#include "demo/motion.h"
#include "demo/season_shots.h"
#include "demo/truth.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>

#include <set>

namespace ropeline::demo {
namespace {

bool in_picture(const PinholeCamera& camera, IcePoint at) {
    const ImagePoint seen = picture_of(camera, at);
    return seen.x_px > 0 && seen.y_px > 0 && seen.x_px < camera.size.width_px &&
           seen.y_px < camera.size.height_px;
}

} // namespace

TEST_CASE("three earlier games have a film each, on other rinks, of other teams, from other places") {
    const auto films = earlier_films(make_play(1, false));
    REQUIRE(films.size() == 3);
    std::set<std::size_t> games;
    std::set<RuleBookId> rinks{demo_rules};
    std::set<double> places;
    for (const EarlierFilm& film : films) {
        games.insert(film.game);
        rinks.insert(film.filming.rules);
        places.insert(film.cameras.front().position.x);
        CHECK(film.play.frames.size() == film.cameras.size());
        CHECK(film.play.frames.size() < 300); // ten seconds: the demo is not to take long
        CHECK_FALSE(film.play.chances.empty());
    }
    CHECK(games.size() == 3);
    CHECK_FALSE(games.contains(planned_games().size() - 1));
    CHECK(rinks.size() == 4);
    CHECK(places.size() == 3);
}

TEST_CASE("each camera sees the net, the goalie, the puck and the receivers of every chance, and enough "
          "paint for a fit") {
    for (const EarlierFilm& film : earlier_films(make_play(1, false))) {
        CAPTURE(film.name);
        const PinholeCamera& camera = film.cameras.front();
        int landmarks_seen = 0;
        for (const Landmark& landmark : landmarks(rule_book(film.filming.rules)))
            landmarks_seen += in_picture(camera, landmark.at);
        CHECK(landmarks_seen >= 12);
        for (const double post : {-0.9144, 0.9144})
            CHECK(in_picture(camera, {post, 0.0}));
        for (const Chance& chance : film.play.chances) {
            CAPTURE(chance.title);
            for (const ChanceMoment& moment : chance.moments) {
                const Instant& instant = film.play.frames.at(static_cast<std::size_t>(moment.frame));
                CHECK(in_picture(camera, instant.goalie.at));
                CHECK(in_picture(camera, shadow_of(instant.puck)));
                for (const ChanceThreat& threat : moment.threats)
                    CHECK(in_picture(camera, instant.skaters[static_cast<std::size_t>(threat.skater)].at));
            }
        }
    }
}

TEST_CASE("a play seen in a mirror twice is the play") {
    const Play play = make_play(1, true);
    const Play once = mirrored(play), twice = mirrored(once);
    REQUIRE(twice.frames.size() == play.frames.size());
    for (std::size_t frame = 0; frame < play.frames.size(); ++frame) {
        CHECK(twice.frames[frame].goalie.skates[0] == play.frames[frame].goalie.skates[0]);
        CHECK(once.frames[frame].goalie.skates[0].x_m == -play.frames[frame].goalie.skates[1].x_m);
        CHECK(twice.frames[frame].puck.x == play.frames[frame].puck.x);
    }
}

} // namespace ropeline::demo
