// Films of fields, at an uneven rate, through a rolling shutter and through glass: do they measure as they were told to?
#include "carry/films.h"
#include "film/film_reader.h"
#include "film/rgb.h"

#include <doctest/doctest.h>
#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>
#include <unistd.h>

using namespace ropeline;
namespace fs = std::filesystem;

namespace {

struct Folder {
    fs::path path = fs::temp_directory_path() / ("ways_of_filming_test_" + std::to_string(getpid()));
    Folder() { fs::create_directories(path); }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(path, ignored);
    }
};

RealFilm small_film(const char* name, int frames) {
    return film_named(real_films(0.5, frames), name);
}

cv::Mat grey_of(const demo::Canvas& canvas) {
    const cv::Mat rgb(canvas.size.height_px, canvas.size.width_px, CV_8UC3,
                      const_cast<std::uint8_t*>(canvas.rgb.data()));
    cv::Mat grey;
    cv::cvtColor(rgb, grey, cv::COLOR_RGB2GRAY);
    return grey;
}

cv::Mat decoded(FilmReader& reader, int frame) {
    RgbPicture picture = rgb_of(*reader.picture(FrameIndex{frame}), reader.facts());
    const cv::Mat rgb(picture.height_px, picture.width_px, CV_8UC3, picture.bytes.data());
    cv::Mat grey;
    cv::cvtColor(rgb, grey, cv::COLOR_RGB2GRAY);
    return grey;
}

/// How far the scene moved from one picture to the other.
cv::Point2d shift_px(const cv::Mat& from, const cv::Mat& to) {
    cv::Mat a, b, window;
    from.convertTo(a, CV_64F);
    to.convertTo(b, CV_64F);
    cv::createHanningWindow(window, from.size(), CV_64F);
    return cv::phaseCorrelate(a, b, window);
}

/// Where the middle of one camera's picture lies in another's of the same place, from that one's middle.
ImagePoint middle_moved(const demo::PinholeCamera& then, const demo::PinholeCamera& now) {
    const demo::Vec3 ahead = demo::axes(then).forward;
    const ImagePoint at = demo::project(now, demo::axes(now), now.position + ahead * 30.0).at;
    return {at.x_px - now.size.width_px / 2.0, at.y_px - now.size.height_px / 2.0};
}

} // namespace

TEST_CASE(
    "an interlaced film: the reader says so, and its fields lie half a frame apart, the top one first") {
    const RealFilm film = small_film("interlaced", 8);
    const FilmedShot shot = shot_of(film);
    const Folder folder;
    write_once(film, shot, folder.path / "film.mp4");
    FilmReader reader((folder.path / "film.mp4").string(), {});
    CHECK(reader.facts().interlaced);
    for (const int frame : {3, 6}) {
        const cv::Mat grey = decoded(reader, frame);
        cv::Mat fields[2]{cv::Mat(grey.rows / 2, grey.cols, CV_8U), cv::Mat(grey.rows / 2, grey.cols, CV_8U)};
        for (int row = 0; row < grey.rows; ++row)
            grey.row(row).copyTo(fields[row % 2].row(row / 2));
        const double moved_px =
            middle_moved(shot.camera(frame - 1), shot.camera(frame + 1)).x_px / 2.0; // a frame's
        REQUIRE(std::abs(moved_px) > 2.0);
        MESSAGE("a frame moves " << moved_px << " px, a field " << shift_px(fields[0], fields[1]).x << " px");
        CHECK(std::abs(shift_px(fields[0], fields[1]).x - moved_px / 2.0) < 0.35);
    }
}

TEST_CASE("a film at an uneven rate: its times are those that its camera was at") {
    const RealFilm film = small_film("uneven rate", 30);
    const FilmedShot shot = shot_of(film);
    const Folder folder;
    write_once(film, shot, folder.path / "film.mp4");
    FilmReader reader((folder.path / "film.mp4").string(), {});
    REQUIRE(reader.frames().count() == 30);
    double least_s = 1.0, most_s = 0.0;
    for (int frame = 1; frame < 30; ++frame) {
        const double lasted_s =
            reader.frames().seconds_of(FrameIndex{frame}) - reader.frames().seconds_of(FrameIndex{frame - 1});
        least_s = std::min(least_s, lasted_s);
        most_s = std::max(most_s, lasted_s);
        CHECK(std::abs(lasted_s - (seconds_of(film.filming, frame) - seconds_of(film.filming, frame - 1))) <
              0.001);
    }
    CHECK(least_s < 0.6 / 30.0);
    CHECK(most_s > 1.4 / 30.0);
}

TEST_CASE("a rolling shutter: the top of the picture is earlier, the bottom later than its middle") {
    RealFilm film = small_film("phone at the glass", 30);
    film.filming.look = {};
    RealFilm global = film;
    global.filming.readout_s = 0.0;
    const FilmedShot rolling = shot_of(film), at_once = shot_of(global);
    const auto speed = [&](int frame) {
        return std::abs(middle_moved(at_once.camera(frame - 1), at_once.camera(frame)).x_px);
    };
    int frame = 2;
    for (int other = 2; other < 29; ++other)
        frame = speed(other) > speed(frame) ? other : frame;
    const cv::Mat skewed = grey_of(rolling.picture(frame)), straight = grey_of(at_once.picture(frame));
    const double moved_px = middle_moved(at_once.camera(frame - 1), at_once.camera(frame + 1)).x_px / 2.0;
    const cv::Rect stands(0, straight.rows / 5, straight.cols, straight.rows / 5);
    const double row_share =
        (0.3 - 0.5) * film.filming.readout_s * 30.0; // of a frame, in the middle of that strip
    const double seen_px = shift_px(straight(stands), skewed(stands)).x;
    MESSAGE("a frame moves " << moved_px << " px; the stands are off by " << seen_px << " px");
    REQUIRE(std::abs(moved_px) > 3.0);
    CHECK(std::abs(seen_px - row_share * moved_px) < 0.15);
}

TEST_CASE("behind the glass: stanchions cover a few columns, lamps shine in the ice") {
    RealFilm film = small_film("phone at the glass", 1);
    film.filming.readout_s = 0.0;
    film.filming.grain = 0;
    const auto with = [&](bool lights, bool glass) {
        film.filming.look = {};
        film.filming.look.mirrored_lights = lights;
        film.filming.look.glass = glass;
        return grey_of(shot_of(film).picture(0));
    };
    const cv::Mat plain = with(false, false), lit = with(true, false), behind = with(false, true);
    cv::Mat brighter, darker, columns;
    cv::subtract(lit, plain, brighter);
    double most = 0.0;
    cv::minMaxLoc(brighter, nullptr, &most);
    CHECK(most > 35.0);
    const double lit_share = cv::countNonZero(brighter > 10) / static_cast<double>(brighter.total());
    CHECK(lit_share > 0.01);
    CHECK(lit_share < 0.35);
    const cv::Mat ice = plain.rowRange(plain.rows * 2 / 3, plain.rows),
                  through = behind.rowRange(plain.rows * 2 / 3, plain.rows);
    cv::subtract(ice, through, darker);
    cv::reduce(darker, columns, 0, cv::REDUCE_AVG, CV_64F);
    const double covered = cv::countNonZero(columns > 40.0) / static_cast<double>(columns.cols);
    CHECK(covered > 0.02);
    CHECK(covered < 0.2);
}
