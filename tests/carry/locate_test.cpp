// A camera of known place found from nothing, on single frames of rendered films with what real ones have.
#include "camera/find_rink.h"
#include "camera/locate.h"
#include "camera/sight.h"
#include "camera/view_grid.h"
#include "carry/films.h"
#include "carry/sighted.h"
#include "demo/filming.h"
#include "rink/landmarks.h"

#include <doctest/doctest.h>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>

#include <cmath>
#include <cstdlib>
#include <random>

using namespace ropeline;

namespace {

const bool all_of_it = std::getenv("ROPELINE_LONG_TESTS") != nullptr;
const RuleBook& rules = rule_book(demo::demo_rules);

/// Films and frames of them that are looked at: all of them with `--long`.
std::vector<RealFilm> films_to_see() {
    std::vector<RealFilm> films = real_films(all_of_it ? 1.0 : 0.5, 300);
    if (!all_of_it)
        std::erase_if(films,
                      [](const RealFilm& film) { return film.name != "crowd" && film.name != "fixed end"; });
    return films;
}

std::vector<int> frames_to_see() {
    if (!all_of_it) return {20, 220};
    std::vector<int> frames;
    for (int frame = 5; frame < 300; frame += 15)
        frames.push_back(frame);
    return frames;
}

/// The same camera said to stand elsewhere.
CameraBelief standing_at(const demo::PinholeCamera& camera, demo::Vec3 place, unsigned seed) {
    demo::PinholeCamera other = camera;
    other.position = place;
    return known_camera(other, seed);
}

} // namespace

// Truth: OpenCV's projectPoints with the rotation and translation that it makes of the same numbers itself.
TEST_CASE("a view told by pan, tilt, zoom and roll is what OpenCV's camera sees") {
    TurningCamera known;
    known.image = {1280, 720};
    known.place_m = {-24.0, 22.0, 11.0};
    const double roll = 0.03;
    cv::Matx33d rolled;
    cv::Rodrigues(cv::Vec3d{0.0, 0.0, roll}, rolled);
    const AimedView ahead{0.0, 0.0, 1500.0, 0.0};
    known.camera_from_world = camera_of(known, ahead).camera_from_world;
    const Eigen::Matrix3d by_opencv = Eigen::Map<const RowMatrix3>(rolled.val);
    known.camera_from_world = (by_opencv * known.camera_from_world).eval();
    CHECK(roll_of(known) == doctest::Approx(roll).epsilon(1e-9));
    const double pan = 2.1, tilt = 0.36;
    const TurningCamera camera = camera_of(known, {pan, tilt, 1750.0, 0.0});
    // From the world's axes: turned about the upright, laid down so that z looks ahead, tilted, rolled.
    cv::Matx33d panned, laid, tilted;
    cv::Rodrigues(cv::Vec3d{0.0, 0.0, pan}, panned);
    cv::Rodrigues(cv::Vec3d{std::acos(-1.0) / 2.0, 0.0, 0.0}, laid);
    cv::Rodrigues(cv::Vec3d{tilt, 0.0, 0.0}, tilted);
    const cv::Matx33d turn = rolled * tilted * laid * panned;
    const cv::Vec3d moved_by = -(turn * cv::Vec3d{-24.0, 22.0, 11.0});
    cv::Vec3d turn_vector;
    cv::Rodrigues(turn, turn_vector);
    const cv::Matx33d inside{1750.0, 0.0, 640.0, 0.0, 1750.0, 360.0, 0.0, 0.0, 1.0};
    for (const char* name : {"left_post", "right_spot", "crease_top", "left_circle_high"}) {
        const IcePoint at = find_landmark(rules, name).value().at;
        std::vector<cv::Point2d> seen;
        cv::projectPoints(std::vector<cv::Point3d>{{at.x_m, at.y_m, 0.0}}, turn_vector, moved_by, inside,
                          cv::noArray(), seen);
        Eigen::Vector2d pixel;
        REQUIRE(project(camera, {at.x_m, at.y_m}, pixel));
        CHECK(std::abs(pixel.x() - seen[0].x) < 1e-6);
        CHECK(std::abs(pixel.y() - seen[0].y) < 1e-6);
    }
}

TEST_CASE("of a camera whose place is known any frame is found from nothing") {
    int frames = 0, found = 0;
    for (const RealFilm& film : films_to_see()) {
        CAPTURE(film.name);
        const FilmedShot shot = shot_of(film);
        int of_film = 0;
        double squared = 0.0;
        for (const int frame : frames_to_see()) {
            CAPTURE(frame);
            const demo::Canvas picture = shot.picture(frame);
            const CameraBelief known = known_camera(shot.camera(0), static_cast<unsigned>(frame));
            const std::optional<Located> located = locate(known, view_of(picture), rules);
            ++frames;
            if (!located) continue;
            ++of_film;
            const double error_m = error_in_view_m(fit_of(located->paint.belief), shot.camera(frame));
            CHECK(error_m < 0.25); // none accepted wrongly
            squared += error_m * error_m;
        }
        CHECK(std::sqrt(squared / std::max(1, of_film)) < 0.10);
        found += of_film;
    }
    MESSAGE(found << " of " << frames << " frames found");
    CHECK(found >= 0.95 * frames);
}

TEST_CASE("a frame that nothing led to is found by the fits of others, no surer than paint lets it be") {
    const std::vector<RealFilm> films = real_films(0.5, 300);
    const RealFilm& film = film_named(films, "crowd");
    const FilmedShot shot = shot_of(film);
    const auto near = coach_fit(film, shot, 20, 1), later = coach_fit(film, shot, 60, 2);
    REQUIRE(near);
    REQUIRE(later);
    const demo::Canvas picture = shot.picture(220);
    const auto found = find_rink(std::vector{*near, *later}, rules, view_of(picture));
    REQUIRE(found);
    CHECK(found->fit < 2);
    CHECK(found->frame.state == CarryState::held);
    CHECK(error_in_view_m(found->frame.fit, shot.camera(220)) < 0.25);
    CHECK(found->frame.sigma_m >= 0.035);
    CHECK(sigma_in_sight(found->frame.fit) == doctest::Approx(found->frame.sigma_m).epsilon(1e-3));
    CHECK_FALSE(find_rink({}, rules, view_of(picture)));
    const cv::Mat white(360, 640, CV_8UC3, cv::Scalar::all(214));
    CHECK_FALSE(find_rink(std::vector{*near}, rules, {white.data, 640, 360, 3 * 640}));
}

TEST_CASE("frames of a camera that stands elsewhere are not taken for those of this one") {
    std::mt19937 random(3);
    std::normal_distribution<double> noise;
    int taken = 0, tried = 0;
    for (const RealFilm& film : films_to_see()) {
        const FilmedShot shot = shot_of(film);
        for (const int frame : frames_to_see()) {
            const demo::Canvas picture = shot.picture(frame);
            std::vector<demo::Vec3> elsewhere{{20.0, 18.0, 13.0}};
            for (const double off_m : all_of_it ? std::vector{4.0, 8.0} : std::vector{5.0})
                elsewhere.push_back(film.place +
                                    demo::Vec3{off_m * noise(random), off_m * noise(random), 0.2 * off_m});
            // A second tripod beside the first, or this one after it was carried a few steps.
            for (const double off_m : all_of_it ? std::vector{1.0, 1.5, 2.0, 2.5} : std::vector{2.0})
                elsewhere.push_back(film.place + demo::Vec3{0.6 * off_m, 0.8 * off_m, 0.0});
            for (const demo::Vec3 place : elsewhere) {
                ++tried;
                taken += locate(standing_at(shot.camera(0), place, 1), view_of(picture), rules) ? 1 : 0;
            }
        }
    }
    MESSAGE(taken << " of " << tried << " taken");
    CHECK(taken == 0);
}

TEST_CASE("white ice, texture and noise are nothing that a camera of a rink sees") {
    const FilmedShot shot = shot_of(film_named(real_films(0.5, 300), "calm"));
    const CameraBelief known = known_camera(shot.camera(0), 1);
    cv::RNG random(5);
    for (const double noise : {0.0, 3.0, 60.0}) {
        cv::Mat picture(360, 640, CV_8UC3, cv::Scalar(215, 218, 220)), grain(picture.size(), CV_16SC3);
        random.fill(grain, cv::RNG::NORMAL, 0.0, noise);
        picture.convertTo(picture, CV_16S);
        cv::Mat(picture + grain).convertTo(picture, CV_8U);
        CHECK_FALSE(locate(known, {picture.data, 640, 360, 3 * 640}, rules));
    }
}

TEST_CASE("a key view of the place tells the far end from this one, which paint cannot") {
    const RealFilm film = film_named(real_films(0.5, 300), "calm");
    const FilmedShot shot = shot_of(film);
    const int frame = 40;
    const demo::Canvas picture = shot.picture(frame);
    const IcePoint across = from_other_end(rules, {film.place.x, film.place.y});
    RealFilm other = film;
    other.place = {across.x_m, across.y_m, film.place.z};
    other.aim_at_s = [aim = film.aim_at_s](double s) {
        Aim at = aim(s);
        at.at = from_other_end(rules, at.at);
        return at;
    };
    const FilmedShot far = shot_of(other);
    cv::Mat grey;
    demo::Canvas here = shot.picture(frame);
    cv::cvtColor(cv::Mat(here.size.height_px, here.size.width_px, CV_8UC3, here.rgb.data()), grey,
                 cv::COLOR_RGB2GRAY);
    const CameraBelief known = known_camera(shot.camera(0), 2);
    const std::vector<KeyView> views{
        key_view(grey, {turning_camera(shot.camera(frame)), known.spread}, true)};
    CHECK(locate(known, view_of(shot.picture(frame + 3)), rules, views));
    CHECK_FALSE(locate(known, view_of(far.picture(frame)), rules, views));
}
