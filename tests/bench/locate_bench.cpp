// How well a camera is found from nothing on frames of rendered films, drawn at random and through the encoder: a
// line a film, and one for each frame that was accepted wrongly.
// locate_bench WHAT FOLDER WIDTH FRAMES [NAME ...]: the frames are written into the folder once, read from it
// afterwards. WHAT is
//   found      the place is known to 0.1 m: frames of the film
//   anywhere   the same, of frames that look and zoom anywhere
//   others     the place is that of another camera: none may be accepted
//   beside     the same of cameras within arm's reach and up to three metres off
//   proposed   nothing is known but the rule book
//   periods    as found, of frames of two films of twenty minutes; the other camera's are not to be accepted
#include "camera/locate.h"
#include "camera/propose_fit.h"
#include "camera/turned.h"
#include "carry/films.h"
#include "carry/long_films.h"
#include "carry/sighted.h"
#include "demo/filming.h"
#include "film/film_reader.h"
#include "film/film_writer.h"
#include "film/rgb.h"

#include <fmt/core.h>

#include <algorithm>
#include <cstdio>
#include <ctime>
#include <exception>
#include <random>
#include <string>
#include <vector>

using namespace ropeline;

namespace {

const RuleBook& rules = rule_book(demo::demo_rules);
constexpr double wrong_m = 0.30;

double processor_s() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

struct Frames {
    FilmedShot shot;
    std::vector<int> frames;
    std::vector<RgbPicture> pictures;

    std::size_t count() const { return frames.size(); }
    const demo::PinholeCamera& camera(std::size_t i) const { return shot.camera(frames[i]); }
    PictureView picture(std::size_t i) const {
        const RgbPicture& rgb = pictures[i];
        return {rgb.bytes.data(), rgb.width_px, rgb.height_px, 3 * rgb.width_px};
    }
};

Frames frames_of(const RealFilm& film, int count, const std::filesystem::path& path) {
    Frames drawn{shot_of(film), {}, {}};
    std::mt19937 random(7);
    for (int i = 0; i < count; ++i)
        drawn.frames.push_back(static_cast<int>(random() % static_cast<unsigned>(drawn.shot.count())));
    if (!std::filesystem::exists(path)) {
        FilmWriter writer(path.string(), {.width_px = film.filming.size.width_px,
                                          .height_px = film.filming.size.height_px,
                                          .crf = film.crf,
                                          .gop = 180,
                                          .preset = "veryfast"});
        for (const int frame : drawn.frames)
            writer.add(drawn.shot.picture(frame).rgb);
        writer.finish();
    }
    FilmReader reader(path.string(), {});
    for (int i = 0; i < count; ++i)
        drawn.pictures.push_back(rgb_of(*reader.picture(FrameIndex{i}), reader.facts()));
    return drawn;
}

struct Score {
    int tried = 0, accepted = 0, wrong = 0;
    double squared = 0.0, worst_m = 0.0, spent_s = 0.0, longest_s = 0.0;

    void took(double seconds) {
        ++tried;
        spent_s += seconds;
        longest_s = std::max(longest_s, seconds);
    }
    void accept(double error_m) {
        ++accepted;
        wrong += error_m > wrong_m ? 1 : 0;
        squared += error_m * error_m;
        worst_m = std::max(worst_m, error_m);
    }
    void show(const std::string& name) const {
        fmt::print("{:<18} {:>3} of {:>3} accepted, {} wrong; RMS {:.3f} m, worst {:.3f} m; {:.2f} s a "
                   "frame, longest "
                   "{:.2f}\n",
                   name, accepted, tried, wrong, std::sqrt(squared / std::max(1, accepted)), worst_m,
                   spent_s / std::max(1, tried), longest_s);
        std::fflush(stdout);
    }
};

/// Where else a camera may stand: those of the other films, and places some metres off.
std::vector<demo::Vec3> other_places(const RealFilm& film, std::mt19937& random) {
    std::vector<demo::Vec3> places{{20.0, 18.0, 13.0}, {-19.5, 13.0, 9.6}};
    for (const RealFilm& other : real_films(1.0, 2))
        places.push_back(other.place);
    std::normal_distribution<double> noise;
    for (const double off : {4.0, 8.0}) {
        const demo::Vec3 way{noise(random), noise(random), 0.3 * noise(random)};
        places.push_back(film.place + way * (off / length(way)));
    }
    std::erase_if(places, [&](demo::Vec3 at) { return length(at - film.place) < 1.5; });
    return places;
}

Score found(const RealFilm&, const Frames& frames) {
    Score score;
    for (std::size_t i = 0; i < frames.count(); ++i) {
        const CameraBelief known = known_camera(frames.shot.camera(0), static_cast<unsigned>(i));
        const double started_s = processor_s();
        const std::optional<Located> located = locate(known, frames.picture(i), rules);
        score.took(processor_s() - started_s);
        if (located) score.accept(error_in_view_m(fit_of(located->paint.belief), frames.camera(i)));
    }
    return score;
}

/// Where a second tripod may stand, or the same one after it was carried a few steps.
std::vector<demo::Vec3> places_beside(const RealFilm& film, std::mt19937& random) {
    std::vector<demo::Vec3> places;
    std::normal_distribution<double> noise;
    for (const double off : {1.0, 1.5, 2.0, 2.5}) {
        const demo::Vec3 way{noise(random), noise(random), 0.2 * noise(random)};
        places.push_back(film.place + way * (off / length(way)));
    }
    return places;
}

Score others(const RealFilm& film, const Frames& frames, bool beside) {
    Score score;
    std::mt19937 random(11);
    for (std::size_t i = 0; i < frames.count(); ++i) {
        for (const demo::Vec3 place : beside ? places_beside(film, random) : other_places(film, random)) {
            demo::PinholeCamera other = frames.shot.camera(0);
            other.position = place;
            const CameraBelief known = known_camera(other, static_cast<unsigned>(i));
            const double started_s = processor_s();
            const std::optional<Located> located = locate(known, frames.picture(i), rules);
            score.took(processor_s() - started_s);
            if (!located) continue;
            const double error_m = error_in_view_m(fit_of(located->paint.belief), frames.camera(i));
            score.accept(error_m);
            fmt::print("   frame {} taken from {:.1f} m off: error {:.3f} m, share {:.2f}, rms {:.2f} px, "
                       "{:.2f} sigmas, place off {:.1f}\n",
                       frames.frames[i], length(place - film.place), error_m, located->evidence.share,
                       located->paint.rms_px, located->paint.rms_sigmas, located->place_off);
        }
    }
    return score;
}

Score proposed(const RealFilm&, const Frames& frames) {
    Score score;
    for (std::size_t i = 0; i < frames.count(); ++i) {
        const double started_s = processor_s();
        const std::optional<ProposedFit> fit = propose_fit(frames.picture(i), rules);
        score.took(processor_s() - started_s);
        if (fit) // either end may be meant
            score.accept(std::min(error_in_view_m(fit->fit, frames.camera(i)),
                                  error_in_view_m(turned(fit->fit, rules), frames.camera(i))));
    }
    return score;
}

struct OfPeriod {
    Score shown, others; ///< frames of its camera that show the net; frames of the other camera
};

OfPeriod of_period(const LongFilm& film, int count, const std::filesystem::path& path) {
    std::mt19937 random(7);
    std::vector<int> frames;
    while (static_cast<int>(frames.size()) < count) {
        const int frame = static_cast<int>(random() % static_cast<unsigned>(film.film.frames));
        const bool other = film.piece_at(frame).camera == LongFilm::other_camera;
        const demo::PinholeCamera& camera = film.shot_at(frame).camera(film.frame_of_shot(frame));
        if (other || net_area_error_m(fit_of(CameraBelief{turning_camera(camera), CameraSpread::Zero()}),
                                      camera) >= 0.0)
            frames.push_back(frame);
    }
    if (!std::filesystem::exists(path)) {
        FilmWriter writer(path.string(), {.width_px = film.film.filming.size.width_px,
                                          .height_px = film.film.filming.size.height_px,
                                          .crf = film.film.crf,
                                          .gop = 180,
                                          .preset = "veryfast"});
        for (const int frame : frames)
            writer.add(film.shot_at(frame).picture(film.frame_of_shot(frame)).rgb);
        writer.finish();
    }
    FilmReader reader(path.string(), {});
    OfPeriod scores;
    for (int i = 0; i < count; ++i) {
        const int frame = frames[static_cast<std::size_t>(i)];
        const RgbPicture rgb = rgb_of(*reader.picture(FrameIndex{i}), reader.facts());
        const CameraBelief known = known_camera(film.shots.front().camera(0), static_cast<unsigned>(i));
        const double started_s = processor_s();
        const std::optional<Located> located =
            locate(known, {rgb.bytes.data(), rgb.width_px, rgb.height_px, 3 * rgb.width_px}, rules);
        const bool other = film.piece_at(frame).camera == LongFilm::other_camera;
        Score& score = other ? scores.others : scores.shown;
        score.took(processor_s() - started_s);
        if (located)
            score.accept(error_in_view_m(fit_of(located->paint.belief),
                                         film.shot_at(frame).camera(film.frame_of_shot(frame))));
    }
    return scores;
}

void run_periods(const std::filesystem::path& folder, int width_px, int count) {
    constexpr int twenty_minutes = 36'000;
    for (const LongFilm& film : long_films(twenty_minutes, width_px / 1280.0)) {
        const OfPeriod scores =
            of_period(film, count, folder / fmt::format("{} {} drawn.mp4", film.film.name, width_px));
        scores.shown.show(film.film.name);
        scores.others.show("  other camera");
    }
}

void run(const std::string& what, const std::filesystem::path& folder, int width_px, int count,
         const std::vector<std::string>& names) {
    for (RealFilm film : real_films(width_px / 1280.0, 300)) {
        if (!names.empty() && std::ranges::find(names, film.name) == names.end()) continue;
        const bool anywhere = what == "anywhere";
        if (anywhere) film = looking_anywhere(film, 3);
        const Frames frames =
            frames_of(film, count, folder / (film.name + (anywhere ? " anywhere.mp4" : ".mp4")));
        const Score score = what == "others" || what == "beside" ? others(film, frames, what == "beside")
                            : what == "proposed"                 ? proposed(film, frames)
                                                                 : found(film, frames);
        score.show(film.name);
    }
}

} // namespace

int main(int count, char** words) {
    if (count < 5) {
        fmt::print(
            stderr,
            "locate_bench found|anywhere|others|beside|proposed|periods FOLDER WIDTH FRAMES [NAME ...]\n");
        return 2;
    }
    try {
        std::filesystem::create_directories(words[2]);
        if (std::string(words[1]) == "periods")
            run_periods(words[2], std::stoi(words[3]), std::stoi(words[4]));
        else
            run(words[1], words[2], std::stoi(words[3]), std::stoi(words[4]), {words + 5, words + count});
    } catch (const std::exception& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 1;
    }
    return 0;
}
