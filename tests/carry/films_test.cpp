// Rendered films with what real ones have: are they as real ones were measured, and is a fit carried through them?
#include "camera/paint_search.h"
#include "carry/films.h"
#include "carry/long_films.h"
#include "film/film_reader.h"
#include "film/rgb.h"

#include <doctest/doctest.h>
#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <unistd.h>

using namespace ropeline;
namespace fs = std::filesystem;

namespace {

const bool all_of_it = std::getenv("ROPELINE_LONG_TESTS") != nullptr;
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr int few_frames = 16;
#else
constexpr int few_frames = 60;
#endif

struct Folder {
    fs::path path = fs::temp_directory_path() / ("films_test_" + std::to_string(getpid()));
    Folder() { fs::create_directories(path); }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(path, ignored);
    }
};

double quantile(std::vector<double> values, double share) {
    REQUIRE_FALSE(values.empty());
    std::ranges::sort(values);
    return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

struct Across {
    std::vector<double> darkness, hue; ///< of the middle against the ice on both sides
};

double luminance(const cv::Vec3b& rgb) {
    return 0.299 * rgb[0] + 0.587 * rgb[1] + 0.114 * rgb[2];
}

/// Red lines between two widths in pixels, in profile across each stretch that the camera sees.
void look_across(const cv::Mat& rgb, const demo::PinholeCamera& camera, const RuleBook& painted,
                 double from_px, double to_px, Across& into) {
    const demo::CameraAxes view = demo::axes(camera);
    const auto seen = [&](const Eigen::Vector2d& at) {
        return demo::project(camera, view, {at.x(), at.y(), 0.0}).at;
    };
    for (const PaintSample& sample : paint_samples(painted)) {
        if (sample.blue) continue;
        const ImagePoint at = seen(sample.at), ahead = seen(sample.at + 0.1 * sample.along);
        const Eigen::Vector2d square{-sample.along.y(), sample.along.x()};
        const ImagePoint edge = seen(sample.at + 0.5 * sample.width_m * square);
        const double length = std::hypot(ahead.x_px - at.x_px, ahead.y_px - at.y_px);
        const double nx = -(ahead.y_px - at.y_px) / length, ny = (ahead.x_px - at.x_px) / length;
        const double width = 2.0 * std::abs((edge.x_px - at.x_px) * nx + (edge.y_px - at.y_px) * ny);
        const bool inside =
            at.x_px > 20 && at.y_px > 110 && at.x_px < rgb.cols - 20 && at.y_px < 0.75 * rgb.rows;
        if (!inside || width < from_px || width > to_px) continue;
        const auto colour = [&](double off) {
            return rgb.at<cv::Vec3b>(static_cast<int>(at.y_px + off * ny),
                                     static_cast<int>(at.x_px + off * nx));
        };
        double darkest = 255.0, redness = 0.0;
        const double reach = 1.5 + width / 4.0, flank = 4.5 + width / 2.0;
        for (double off = -reach; off <= reach; off += 0.5) {
            const cv::Vec3b here = colour(off);
            if (luminance(here) >= darkest) continue;
            darkest = luminance(here);
            redness = double(here[0]) - here[1];
        }
        const cv::Vec3b left = colour(-flank), right = colour(flank);
        into.darkness.push_back((luminance(left) + luminance(right)) / 2.0 - darkest);
        into.hue.push_back(redness - (double(left[0]) - left[1] + double(right[0]) - right[1]) / 2.0);
    }
}

double share_over(const std::vector<double>& values, double bound) {
    const auto over = std::ranges::count_if(values, [&](double value) { return value >= bound; });
    return static_cast<double>(over) / static_cast<double>(values.size());
}

double share_on_graphics(const cv::Mat& grey) {
    cv::Mat half;
    cv::pyrDown(grey, half);
    std::vector<cv::Point2f> features;
    cv::goodFeaturesToTrack(half, features, 260, 0.01, 9.0);
    int on = 0;
    for (const cv::Point2f& at : features) {
        const double x = static_cast<double>(at.x) / half.cols, y = static_cast<double>(at.y) / half.rows;
        for (const demo::Share& box : {demo::score_at, demo::mark_at})
            on += x > box.left - 0.01 && x < box.right + 0.01 && y > box.top - 0.02 && y < box.bottom + 0.02
                      ? 1
                      : 0;
    }
    return on / static_cast<double>(features.size());
}

} // namespace

// Figures of one real broadcast shot at 1280x720; the bounds leave room for another camera.
TEST_CASE("a rendered broadcast film measures as a real one does") {
    RealFilm film = film_named(real_films(1.0, 4), "broadcast");
    film.filming.look.flashes.clear();
    film.aim_at_s = [aim = film.aim_at_s](double s) { return aim(s + 0.3); }; // as fast as the median frame
    const FilmedShot shot = shot_of(film);
    const Folder folder;
    write_once(film, shot, folder.path / "film.mp4");
    FilmReader reader((folder.path / "film.mp4").string(), {});
    const RuleBook painted = demo::as_painted(rule_book(RuleBookId::nhl));
    Across thin;
    std::vector<double> sharpness, ice, on_graphics;
    for (int frame = 1; frame < film.frames; ++frame) {
        RgbPicture picture = rgb_of(*reader.picture(FrameIndex{frame}), reader.facts());
        const cv::Mat rgb(picture.height_px, picture.width_px, CV_8UC3, picture.bytes.data());
        cv::Mat grey, bend;
        cv::cvtColor(rgb, grey, cv::COLOR_RGB2GRAY);
        look_across(rgb, shot.camera(frame), painted, 0.7, 2.0, thin);
        const cv::Rect on_ice(grey.cols / 5, grey.rows * 2 / 5, grey.cols * 3 / 5, grey.rows * 3 / 10);
        cv::Laplacian(grey(on_ice), bend, CV_64F);
        cv::Scalar mean, spread;
        cv::meanStdDev(bend, mean, spread);
        sharpness.push_back(spread[0] * spread[0]);
        ice.push_back(quantile(std::vector<double>(grey(on_ice).clone().reshape(1, 1)), 0.5));
        on_graphics.push_back(share_on_graphics(grey));
    }
    std::vector<double> motion_px;
    const FilmedShot whole = shot_of(film_named(real_films(1.0, 300), "broadcast"));
    for (int frame = 1; frame < whole.count(); ++frame) {
        const demo::PinholeCamera &then = whole.camera(frame - 1), &now = whole.camera(frame);
        const demo::Vec3 ahead = demo::axes(then).forward;
        const ImagePoint at = demo::project(now, demo::axes(now), now.position + ahead * 30.0).at;
        const ImageSize size = now.size;
        motion_px.push_back(std::hypot(at.x_px - size.width_px / 2.0, at.y_px - size.height_px / 2.0) *
                            1280.0 / size.width_px);
    }
    MESSAGE("thin red lines darker by "
            << quantile(thin.darkness, 0.5) << " levels, redder by 5 in " << share_over(thin.hue, 5.0)
            << "; ice at " << quantile(ice, 0.5) << ", variance of the Laplacian " << quantile(sharpness, 0.5)
            << "; features on the graphics " << quantile(on_graphics, 0.5) << "; motion "
            << quantile(motion_px, 0.5) << " px, one in ten over " << quantile(motion_px, 0.9));
    CHECK(quantile(thin.darkness, 0.5) > 18.0); // 33 to 41, less what a blurred pan takes
    CHECK(quantile(thin.darkness, 0.5) < 50.0);
    CHECK(share_over(thin.hue, 5.0) < 0.35);
    CHECK(quantile(ice, 0.5) > 195.0); // 208 to 220
    CHECK(quantile(ice, 0.5) < 225.0);
    CHECK(quantile(sharpness, 0.5) > 40.0); // 65 to 541
    CHECK(quantile(sharpness, 0.5) < 541.0);
    CHECK(quantile(on_graphics, 0.5) > 0.10); // a quarter
    CHECK(quantile(on_graphics, 0.5) < 0.45);
    CHECK(quantile(motion_px, 0.5) > 8.0);  // 12.8
    CHECK(quantile(motion_px, 0.9) > 15.0); // 20
    CHECK(quantile(motion_px, 0.9) < 32.0);
    CHECK(film.filming.radial > 0.029); // 0.03 to 0.05
}

TEST_CASE("a fit is carried through films as real ones are: three starts, both ways") {
    const Folder folder;
    const double scale = all_of_it ? 1.0 : 0.5;
    int held = 0, wrong = 0;
    for (const RealFilm& film : real_films(scale, all_of_it ? 300 : few_frames)) {
        if (!all_of_it && film.name != "flashes" && film.name != "graphic" && film.name != "close up and out")
            continue;
        CAPTURE(film.name);
        const FilmedShot shot = shot_of(film);
        write_once(film, shot, folder.path / (film.name + ".mp4"));
        const CarryScore score = carried_through(film, shot, folder.path / (film.name + ".mp4"));
        MESSAGE(film.name << ": " << 100.0 * score.share() << " % held, RMS " << score.rms_m() << " m, worst "
                          << score.worst_m << " m, wrong " << score.wrong);
        CHECK(score.refused == 0);
        CHECK(score.share() >= 0.95);
        CHECK(score.rms_m() <= film.bar_m);
        held += score.held;
        wrong += score.wrong;
    }
    CHECK(wrong * 1000 <= held);
}

TEST_CASE(
    "a period with cuts, close-ups, replays and a second camera: found again, the other camera never taken") {
    if (!all_of_it) return;
    const Folder folder;
    for (const LongFilm& film : long_films(20 * 60 * 30)) {
        CAPTURE(film.film.name);
        const fs::path path = folder.path / (film.film.name + ".mp4");
        write_once(film, path);
        const LongScore score = carried_through(film, path);
        MESSAGE(film.film.name << ": held " << score.held << " of " << score.shown << ", wrong "
                               << score.wrong << ", other camera " << score.taken << " of " << score.others
                               << ", back within a second " << score.soon << " of " << score.cuts);
        CHECK(score.held >= 0.95 * score.shown);
        CHECK(score.wrong * 1000 <= score.held);
        CHECK(score.taken == 0);
        CHECK(score.soon >= 0.95 * score.cuts);
    }
}
