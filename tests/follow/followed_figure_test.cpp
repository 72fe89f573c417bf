// The goalie followed through the demo's films, against the demo's own truth: where the middle between the skates is
// after a second, which is what depth is measured by.
#include "follow/followed_figure.h"

#include "demo/earlier_films.h"
#include "demo/filming.h"
#include "demo/pinhole.h"
#include "demo/truth.h"
#include "film/clips.h"
#include "film/film_reader.h"
#include "film/rgb.h"
#include "follow/mark_follower.h"
#include "follow/picture_work.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <span>
#include <string>
#include <vector>

using namespace ropeline;

namespace {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool one_film = true; // what the sanitizers look for shows in one
#else
constexpr bool one_film = false;
#endif

struct DemoFilm {
    std::string name;
    demo::Play play;
    std::vector<demo::PinholeCamera> cameras;
    demo::Filming filming;
    int starts_apart = 10;
};

/// The demo's films, or the part of each that CI has time for.
std::vector<DemoFilm> demo_films() {
    const bool all = std::getenv("ROPELINE_LONG_TESTS") != nullptr;
    const demo::Play play = demo::make_play(1, false);
    std::vector<DemoFilm> films;
    const auto add = [&](const std::string& name, const demo::Play& shown,
                         const std::vector<demo::PinholeCamera>& cameras, const demo::Filming& filming,
                         std::size_t first, std::size_t last, int apart) {
        DemoFilm film{name, shown, cameras, filming, apart};
        if (!all) {
            const auto cut = [&](auto& frames) {
                frames.resize(std::min(last, frames.size()));
                frames.erase(frames.begin(), frames.begin() + static_cast<std::ptrdiff_t>(first));
            };
            cut(film.play.frames);
            cut(film.cameras);
            for (demo::PinholeCamera& camera : film.cameras) {
                camera.size = {camera.size.width_px / 2, camera.size.height_px / 2};
                camera.focal_px /= 2.0;
            }
        }
        films.push_back(std::move(film));
    };
    add("end_zone", play, demo::end_zone_cameras(play), {}, 140, 187, all ? 7 : 8);
    add("bench_side", play, demo::bench_side_cameras(play), {}, 140, 187, all ? 7 : 8);
    for (const demo::EarlierFilm& film : demo::earlier_films(play))
        if (all || film.name == "corner_stand.mp4")
            add(film.name, film.play, film.cameras, film.filming, 0, 47, all ? 3 : 8);
    if (one_film && !all)
        std::erase_if(films, [](const DemoFilm& film) { return film.name != "bench_side"; });
    return films;
}

RinkFit fit_of(const demo::PinholeCamera& camera) {
    std::vector<LandmarkClick> clicks;
    for (const IcePoint at : {IcePoint{-4.0, 0.0}, IcePoint{4.0, 0.0}, IcePoint{-5.0, 12.0},
                              IcePoint{5.0, 12.0}, IcePoint{0.0, 6.0}, IcePoint{-2.0, 3.0}})
        clicks.push_back({demo::picture_of(camera, at), at, ""});
    return fit_rink(clicks, camera.size);
}

struct Score {
    int starts = 0, sure = 0, near = 0, each_near = 0, unmoved_near = 0;
};

void follow_once(const DemoFilm& film, std::span<const RgbPicture> pictures, int from, int to, Score& score) {
    const auto pose = [&](int frame) { return film.play.frames[static_cast<std::size_t>(frame)].goalie; };
    const auto fit = [&](int frame) { return fit_of(film.cameras[static_cast<std::size_t>(frame)]); };
    FigureFollower follower(fit(from),
                            demo::picture_of(film.cameras[static_cast<std::size_t>(from)], pose(from).at),
                            FigureKind::goalie);
    for (const std::int64_t frame : way_between(from, to, demo::film_rate_hz))
        follower.see(view_of(pictures[static_cast<std::size_t>(frame)]), fit(static_cast<int>(frame)));
    ++score.starts;
    score.unmoved_near += distance(pose(from).at, pose(to).at) <= 0.15;
    const auto followed = follower.followed();
    if (!followed || !is_sure(*followed)) return;
    ++score.sure;
    score.near += distance(pose(from).at + followed->moved, pose(to).at) <= 0.15;
    score.each_near += distance(pose(from).skates[0] + followed->moved, pose(to).skates[0]) <= 0.15 &&
                       distance(pose(from).skates[1] + followed->moved, pose(to).skates[1]) <= 0.15;
}

} // namespace

TEST_CASE("where the follower is sure, the goalie's skates lie within 0.15 m after a second in eight of ten, "
          "forward and back") {
    const clips::Folder folder;
    Score sum;
    for (const DemoFilm& film : demo_films()) {
        const std::string path = folder.file(film.name + ".film.mp4");
        demo::write_film(
            path, film.play, film.cameras, 1, [](int, int) {}, film.filming);
        FilmReader reader(path);
        std::vector<RgbPicture> pictures;
        for (std::size_t f = 0; f < film.play.frames.size(); ++f)
            pictures.push_back(
                rgb_of(*reader.picture(FrameIndex{static_cast<std::int64_t>(f)}), reader.facts()));
        Score score;
        const int last = static_cast<int>(film.play.frames.size()) - 1;
        for (int from = 0; from + demo::film_rate_hz <= last; from += film.starts_apart) {
            follow_once(film, pictures, from, from + demo::film_rate_hz, score);
            follow_once(film, pictures, from + demo::film_rate_hz, from, score);
        }
        MESSAGE(film.name << ": sure in " << score.sure << " of " << score.starts
                          << ", middle of the skates within 0.15 m in " << score.near << ", each skate in "
                          << score.each_near << "; left where it was: " << score.unmoved_near << " of "
                          << score.starts);
        sum.starts += score.starts, sum.sure += score.sure, sum.near += score.near;
        sum.each_near += score.each_near, sum.unmoved_near += score.unmoved_near;
    }
    MESSAGE("all: sure in " << sum.sure << " of " << sum.starts << ", near in " << sum.near << ", each skate "
                            << sum.each_near << ", unmoved near " << sum.unmoved_near);
    CHECK(sum.near >= 0.8 * sum.sure);
    CHECK(sum.sure >= 0.25 * sum.starts);
}

TEST_CASE("what stands right before a low camera is not followed, and asks for no memory") {
    const demo::PinholeCamera camera = demo::aimed({0.0, 16.0, 1.2}, {0.0, 0.0, 0.5}, 900.0);
    const IcePoint feet{0.0, 13.9}; // two metres nearer lies at the lens
    const RinkFit fit = fit_of(camera);
    FigureFollower follower(fit, demo::picture_of(camera, feet), FigureKind::skater);
    const std::vector<std::uint8_t> grey(static_cast<std::size_t>(camera.size.width_px) *
                                             static_cast<std::size_t>(camera.size.height_px) * 3,
                                         128);
    const PictureView picture{grey.data(), camera.size.width_px, camera.size.height_px,
                              camera.size.width_px * 3};
    for (int seen = 0; seen < 3; ++seen)
        follower.see(picture, fit);
    CHECK_FALSE(follower.followed());
}

TEST_CASE("the way from frame to frame has both ends and some fifteen frames a second, either way") {
    CHECK(way_between(10, 15, 30.0) == std::vector<std::int64_t>{10, 12, 14, 15});
    CHECK(way_between(15, 10, 30.0) == std::vector<std::int64_t>{15, 13, 11, 10});
    CHECK(way_between(7, 7, 30.0) == std::vector<std::int64_t>{7});
}
