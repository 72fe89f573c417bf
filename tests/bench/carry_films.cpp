// How well a fit is carried through rendered films that have what real ones have: a line a film.
// carry_films FOLDER WIDTH FRAMES [NAME ...] [--frames] [--sheets] [--chains] [--periods] [--write]: films are written into the folder once
// and read from it afterwards. --frames tells of every frame, --sheets writes a PNG a film with the rink as it was
// carried, --chains compares with chains of homographies from frame to frame
// instead, --periods carries through the long films, so many frames of them, --write leaves it at writing those.
#include "carry/films.h"
#include "carry/long_films.h"
#include "chains.h"
#include "contact_sheet.h"
#include "demo/filming.h"
#include "demo/filming_look.h"
#include "film/rgb.h"
#include "follow/carry_walk.h"
#include "rink/landmarks.h"

#include <fmt/core.h>
#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <array>
#include <cstdio>
#include <ctime>
#include <exception>
#include <string>

using namespace ropeline;
namespace fs = std::filesystem;

namespace {

double processor_s() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

void tell(int start, int frame, const CarriedFrame& now, double error_m) {
    fmt::print(
        "  from {:>3} at {:>3} {:<7} off {:>6.3f} m sigma {:.3f} rms {:.2f} px paint {:>3} of {:>3} features "
        "{:>3} radial {:.3f}\n",
        start, frame, key_of(now.state), error_m, now.sigma_m, now.rms_px, now.paint_agreed,
        now.paint_expected, now.features, now.fit.radial);
}

void show(const RealFilm& film, const FilmedShot& shot, const fs::path& path, bool each, bool sheet) {
    std::map<int, SheetFrame> frames;
    int first = -1;
    const double started_s = processor_s();
    const CarryScore score = carried_through(
        film, shot, path, [&](int start, int frame, const std::optional<CarriedFrame>& now, double error_m) {
            if (!now) return;
            if (each) tell(start, frame, *now, error_m);
            if (first < 0) first = start;
            if (sheet && start == first) frames.insert_or_assign(frame, SheetFrame{*now, error_m});
        });
    fmt::print("{:<18} {:>6.1f} % held, {:>4.1f} unsure  RMS {:.3f} m  worst {:.3f} m  wrong {:>3} of {:>4}  "
               "refused {}  {:.1f} ms a frame, decoding included\n",
               film.name, 100.0 * score.share(), 100.0 * score.unsure / std::max(1, score.shown),
               score.rms_m(), score.worst_m, score.wrong, score.held, score.refused,
               1e3 * (processor_s() - started_s) / std::max(1, score.shown));
    std::fflush(stdout);
    if (!sheet) return;
    FilmReader reader(path.string(), {.cache_bytes = std::size_t{64} << 20});
    write_contact_sheet(fs::path(path).replace_extension(".png"), reader, frames);
}

/// Everything but what is burnt in and the crowd, as somebody would draw it by hand.
cv::Mat1b scene_mask(ImageSize size) {
    cv::Mat1b mask(size.height_px, size.width_px, uchar{255});
    for (const demo::Share& box : {demo::score_at, demo::mark_at}) {
        const cv::Point from(static_cast<int>((box.left - 0.02) * size.width_px),
                             static_cast<int>((box.top - 0.03) * size.height_px));
        const cv::Point to(static_cast<int>((box.right + 0.02) * size.width_px),
                           static_cast<int>((box.bottom + 0.03) * size.height_px));
        cv::rectangle(mask, from, to, 0, cv::FILLED);
    }
    mask.rowRange(static_cast<int>(0.76 * size.height_px), size.height_px) = 0;
    return mask;
}

/// The best homography without a lens: of exact clicks on all that is in sight.
RinkFit exact_fit(const demo::PinholeCamera& camera) {
    std::vector<LandmarkClick> clicks;
    for (const Landmark& mark : landmarks(rule_book(demo::demo_rules))) {
        const demo::Projected seen =
            demo::project(camera, demo::axes(camera), {mark.at.x_m, mark.at.y_m, 0.0});
        const bool inside = seen.range_m > 0.0 && seen.at.x_px > 2.0 && seen.at.y_px > 2.0 &&
                            seen.at.x_px < camera.size.width_px - 2.0 &&
                            seen.at.y_px < camera.size.height_px - 2.0;
        if (inside) clicks.push_back({seen.at, mark.at, mark.label});
    }
    return fit_rink(clicks, camera.size);
}

constexpr std::array<int, 4> seconds_after{1, 5, 20, 60};

struct Errors {
    std::array<std::vector<double>, seconds_after.size()> m;

    void print(const std::string& film, const std::string& way) {
        std::string line = fmt::format("{:<18} {:<40}", film, way);
        for (std::vector<double>& errors : m) {
            std::ranges::sort(errors);
            line += errors.empty() ? fmt::format("{:>9}", "-")
                                   : fmt::format("{:>9.3f}", errors[errors.size() / 2]);
        }
        fmt::print("{}\n", line);
        std::fflush(stdout);
    }
};

/// Median error near the net so long after a fit; both chains start from the truth, ours from a coach's clicks.
void compare(const RealFilm& film, const FilmedShot& shot, const fs::path& path) {
    FilmReader reader(path.string(), {.cache_bytes = std::size_t{96} << 20});
    HomographyChain plain(film.filming.size, 0.0, {}),
        careful(film.filming.size, film.filming.radial, scene_mask(film.filming.size));
    for (int frame = 0; frame < shot.count(); ++frame) {
        RgbPicture picture = rgb_of(*reader.picture(FrameIndex{frame}), reader.facts());
        const cv::Mat rgb(picture.height_px, picture.width_px, CV_8UC3, picture.bytes.data());
        cv::Mat1b grey;
        cv::cvtColor(rgb, grey, cv::COLOR_RGB2GRAY);
        plain.add(grey);
        careful.add(grey);
    }
    Errors of_plain, of_careful, ours;
    int told = 0, held = 0;
    for (const int start : {0, 60, 120}) {
        const auto fit = start < shot.count() ? coach_fit(film, shot, start, static_cast<unsigned>(start + 1))
                                              : std::nullopt;
        if (!fit) continue;
        const demo::PinholeCamera& camera = shot.camera(start);
        const RinkFit lensless = exact_fit(camera);
        RinkFit exact = lensless;
        exact.image_from_ice = demo::image_from_ice(camera);
        exact.radial = camera.radial;
        std::map<int, CarriedFrame> carried;
        const int last = std::min(shot.count() - 1, start + 30 * seconds_after.back() + 10);
        carry_to(reader, {demo::demo_rules, *fit, start}, last,
                 [&](std::int64_t frame, const std::optional<CarriedFrame>& now) {
                     if (now) carried.emplace(static_cast<int>(frame), *now);
                     return true;
                 });
        for (std::size_t i = 0; i < seconds_after.size(); ++i) {
            for (int frame = start + 30 * seconds_after.at(i) - 10;
                 frame <= start + 30 * seconds_after.at(i) + 10; ++frame) {
                if (frame > last || net_area_error_m(exact, shot, frame) < 0.0) continue;
                const auto add = [&](Errors& errors, const std::optional<RinkFit>& there) {
                    errors.m.at(i).push_back(there ? net_area_error_m(*there, shot, frame) : 99.0);
                };
                add(of_plain, plain.carried(lensless, start, frame));
                add(of_careful, careful.carried(exact, start, frame));
                ++told;
                if (carried.at(frame).state != CarryState::held) continue;
                ++held;
                add(ours, carried.at(frame).fit);
            }
        }
    }
    of_plain.print(film.name, "tracked features, a homography of most");
    of_careful.print(film.name, "the same with lens, graphic and crowd out");
    ours.print(film.name,
               fmt::format("ours, held {:.1f} % of these frames", 100.0 * held / std::max(1, told)));
}

void show_period(const LongFilm& film, const fs::path& path, bool each) {
    const double started_s = processor_s();
    const LongScore score =
        carried_through(film, path, [&](int frame, const CarriedFrame& now, double error_m) {
            if (each) tell(0, frame, now, error_m);
        });
    fmt::print("{:<24} {:.1f} % of {} held, RMS {:.3f} m, wrong {}; other camera held {} of {}; back within "
               "a second {} "
               "of {}; {:.1f} ms a frame, decoding included\n",
               film.film.name, 100.0 * score.held / std::max(1, score.shown), score.shown,
               std::sqrt(score.squared / std::max(1, score.held)), score.wrong, score.taken, score.others,
               score.soon, score.cuts, 1e3 * (processor_s() - started_s) / film.film.frames);
    std::fflush(stdout);
}

} // namespace

int main(int count, char** words) {
    if (count < 4) {
        fmt::print(stderr,
                   "carry_films FOLDER WIDTH FRAMES [NAME ...] [--frames] [--sheets] [--chains] [--periods] "
                   "[--write]\n");
        return 2;
    }
    try {
        const fs::path folder(words[1]);
        fs::create_directories(folder);
        std::vector<std::string> wanted(words + 4, words + count);
        const auto asked = [&](const char* option) { return std::erase(wanted, option) > 0; };
        const bool each = asked("--frames"), sheets = asked("--sheets"), chains = asked("--chains"),
                   only_written = asked("--write");
        if (asked("--periods")) {
            for (const LongFilm& film : long_films(std::stoi(words[3]))) {
                if (!wanted.empty() && std::ranges::find(wanted, film.film.name) == wanted.end()) continue;
                const fs::path path = folder / (film.film.name + ".mp4");
                write_once(film, path);
                if (!only_written) show_period(film, path, each);
            }
            return 0;
        }
        for (const RealFilm& film : real_films(std::stoi(words[2]) / 1280.0, std::stoi(words[3]))) {
            if (!wanted.empty() && std::ranges::find(wanted, film.name) == wanted.end()) continue;
            const FilmedShot shot = shot_of(film);
            const fs::path path = folder / (film.name + ".mp4");
            write_once(film, shot, path);
            chains ? compare(film, shot, path) : show(film, shot, path, each, sheets);
        }
    } catch (const std::exception& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 1;
    }
    return 0;
}
