// How well a camera of known place is found from nothing on random frames of rendered films: a line a film.
// locate_bench FOLDER WIDTH FRAMES [NAME ...]: the frames are written into the folder once, read from it afterwards.
#include "camera/locate.h"
#include "carry/films.h"
#include "carry/sighted.h"
#include "demo/filming.h"
#include "film/film_reader.h"
#include "film/film_writer.h"
#include "film/rgb.h"

#include <fmt/core.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <random>
#include <string>
#include <vector>

using namespace ropeline;

namespace {

double processor_s() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

/// Pictures of frames drawn at random, through the encoder.
std::vector<RgbPicture> pictures_of(const RealFilm& film, const FilmedShot& shot,
                                    const std::vector<int>& frames, const std::filesystem::path& path) {
    if (!std::filesystem::exists(path)) {
        FilmWriter writer(path.string(), {.width_px = film.filming.size.width_px,
                                          .height_px = film.filming.size.height_px,
                                          .crf = film.crf,
                                          .gop = 180,
                                          .preset = "veryfast"});
        for (const int frame : frames)
            writer.add(shot.picture(frame).rgb);
        writer.finish();
    }
    FilmReader reader(path.string(), {});
    std::vector<RgbPicture> pictures;
    for (std::size_t i = 0; i < frames.size(); ++i)
        pictures.push_back(rgb_of(*reader.picture(FrameIndex{static_cast<std::int64_t>(i)}), reader.facts()));
    return pictures;
}

void show(const RealFilm& film, const std::filesystem::path& folder, int count) {
    const FilmedShot shot = shot_of(film);
    std::mt19937 random(7);
    std::vector<int> frames;
    for (int i = 0; i < count; ++i)
        frames.push_back(static_cast<int>(random() % static_cast<unsigned>(shot.count())));
    const std::vector<RgbPicture> pictures = pictures_of(film, shot, frames, folder / (film.name + ".mp4"));
    const std::vector<PaintSample> samples = paint_samples(rule_book(demo::demo_rules));
    int shown = 0, found = 0, right = 0, wrong = 0;
    double squared = 0.0, worst = 0.0, spent_s = 0.0, longest_s = 0.0;
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const demo::PinholeCamera& camera = shot.camera(frames[i]);
        const CameraBelief known = known_camera(shot.camera(0), static_cast<unsigned>(i));
        const RgbPicture& rgb = pictures[i];
        const PictureView picture{rgb.bytes.data(), rgb.width_px, rgb.height_px, 3 * rgb.width_px};
        const double started_s = processor_s();
        const std::optional<Located> located = likeliest(known, picture, samples);
        const double took_s = processor_s() - started_s;
        spent_s += took_s;
        longest_s = std::max(longest_s, took_s);
        shown += 1;
        if (!located) continue;
        found += is_clear(*located) ? 1 : 0;
        const double error = error_in_view_m(fit_of(located->paint.belief), camera);
        const bool good = error <= film.bar_m + 0.05;
        right += good ? 1 : 0;
        wrong += error > 0.5 && is_clear(*located) ? 1 : 0;
        if (good) squared += error * error;
        worst = std::max(worst, error);
        if (std::getenv("LOCATE_EACH"))
            fmt::print("   frame {:>3} error {:.3f} share {:.2f} z {:.1f} rival {:.1f} off {:.1f} sigma "
                       "{:.3f} found {}/{} rms {:.2f} {:.2f} s {}\n",
                       frames[i], error, located->evidence.share, located->evidence.sigmas,
                       located->rival_sigmas, located->place_off, located->sigma_m, located->evidence.found,
                       located->evidence.expected, located->paint.rms_px, took_s,
                       is_clear(*located) ? "" : "REFUSED");
    }
    fmt::print("{:<18} {:>3} of {:>3} found, {:>3} right, {:>3} wrong; RMS {:.3f} m, worst {:.3f} m; {:.2f} "
               "s a frame, longest {:.2f}\n",
               film.name, found, shown, right, wrong, std::sqrt(squared / std::max(1, right)), worst,
               spent_s / std::max(1, shown), longest_s);
    std::fflush(stdout);
}

/// Where else a camera may stand: those of the other films, and places some metres off.
std::vector<demo::Vec3> other_places(const RealFilm& film, std::mt19937& random) {
    std::vector<demo::Vec3> places{{20.0, 18.0, 13.0}, {-19.5, 13.0, 9.6}};
    for (const RealFilm& other : real_films(1.0, 2))
        places.push_back(other.place);
    std::erase_if(places, [&](demo::Vec3 at) { return length(at - film.place) < 1.5; });
    std::normal_distribution<double> noise;
    for (const double off : {2.0, 4.0, 8.0})
        places.push_back(film.place +
                         demo::Vec3{off * noise(random), off * noise(random), 0.3 * off * noise(random)});
    return places;
}

/// Frames of this film taken for frames of cameras that stand elsewhere.
void show_others(const RealFilm& film, const std::filesystem::path& folder, int count) {
    const FilmedShot shot = shot_of(film);
    std::mt19937 random(7);
    std::vector<int> frames;
    for (int i = 0; i < count; ++i)
        frames.push_back(static_cast<int>(random() % static_cast<unsigned>(shot.count())));
    const std::vector<RgbPicture> pictures = pictures_of(film, shot, frames, folder / (film.name + ".mp4"));
    const std::vector<PaintSample> samples = paint_samples(rule_book(demo::demo_rules));
    int tried = 0, accepted = 0, wrong = 0;
    double most = 0.0;
    for (std::size_t i = 0; i < frames.size(); ++i) {
        for (const demo::Vec3 place : other_places(film, random)) {
            demo::PinholeCamera other = shot.camera(0);
            other.position = place;
            CameraBelief known = known_camera(other, static_cast<unsigned>(i));
            const RgbPicture& rgb = pictures[i];
            const PictureView picture{rgb.bytes.data(), rgb.width_px, rgb.height_px, 3 * rgb.width_px};
            ++tried;
            const std::optional<Located> located = likeliest(known, picture, samples);
            if (!located) continue;
            most = std::max(most, located->evidence.sigmas);
            const double error = error_in_view_m(fit_of(located->paint.belief), shot.camera(frames[i]));
            const double off = length(place - film.place);
            if (std::getenv("LOCATE_EACH") && (is_clear(*located) || located->evidence.sigmas > 5.0))
                fmt::print("   frame {:>3} place off {:.2f} error {:.3f} share {:.2f} z {:.1f} rival {:.1f} "
                           "off {:.1f} sigma {:.3f} found {}/{} rms {:.2f} {}\n",
                           frames[i], off, error, located->evidence.share, located->evidence.sigmas,
                           located->rival_sigmas, located->place_off, located->sigma_m,
                           located->evidence.found, located->evidence.expected, located->paint.rms_px,
                           is_clear(*located) ? "TAKEN" : "");
            if (!is_clear(*located)) continue;
            ++accepted;
            wrong += error > 0.3 ? 1 : 0;
        }
    }
    fmt::print(
        "{:<18} other cameras: {} tried, {} taken, {} of them off by 0.3 m or more; most evidence {:.2f}\n",
        film.name, tried, accepted, wrong, most);
    std::fflush(stdout);
}

} // namespace

int main(int count, char** words) {
    if (count < 4) {
        fmt::print(stderr, "locate_bench FOLDER WIDTH FRAMES [NAME ...]\n");
        return 2;
    }
    try {
        std::filesystem::create_directories(words[1]);
        const std::vector<std::string> wanted(words + 4, words + count);
        for (const RealFilm& film : real_films(std::stoi(words[2]) / 1280.0, 300)) {
            if (wanted.empty() || std::ranges::find(wanted, film.name) != wanted.end())
                (std::getenv("LOCATE_OTHERS") ? show_others : show)(film, words[1], std::stoi(words[3]));
        }
    } catch (const std::exception& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 1;
    }
    return 0;
}
