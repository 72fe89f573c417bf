#include "carry/long_films.h"

#include "demo/filming.h"
#include "film/film_writer.h"
#include "follow/carry_walk.h"

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

namespace ropeline {
namespace {

/// Up and down the zone with the play; now and then out to the red line.
Aim of_main_camera(double s, double pace, double focal_px) {
    const double out = std::pow(std::max(0.0, std::sin(0.13 * s)), 6.0);
    return {{1.5 * std::sin(0.7 * pace * s),
             7.5 + 4.5 * std::sin(pace * s) + std::sin(2.7 * pace * s) + 12.0 * out},
            focal_px * (1.0 + 0.12 * std::sin(0.5 * pace * s))};
}

std::vector<LongFilm::Piece> pieces_of(int frames, unsigned seed) {
    std::mt19937 random(seed);
    const auto frames_of = [&](double least_s, double most_s) {
        return static_cast<int>(30.0 * std::uniform_real_distribution(least_s, most_s)(random));
    };
    std::vector<LongFilm::Piece> pieces;
    int at = 0, play = 0; // of the film, and of the main camera
    while (at < frames) {
        pieces.push_back({at, LongFilm::main_camera, play, 1.0});
        const int length = frames_of(8.0, 25.0);
        at += length;
        play += length;
        switch (random() % 3) {
        case 0:
            pieces.push_back({at, LongFilm::close_up, play, 1.0});
            at += frames_of(2.0, 4.0);
            break;
        case 1:
            pieces.push_back({at, LongFilm::other_camera, play, 1.0});
            at += frames_of(3.0, 6.0);
            break;
        default: { // what was just seen, at half the pace
            const int seen = std::min(length, frames_of(2.0, 4.0));
            pieces.push_back({at, LongFilm::main_camera, play - seen, 0.5});
            at += 2 * seen;
        }
        }
    }
    return pieces;
}

LongFilm long_film(const std::string& name, demo::Vec3 place, double pace, double focal_px, int frames,
                   unsigned seed, double size) {
    LongFilm made;
    made.film.name = name;
    made.film.place = place;
    made.film.frames = frames;
    made.film.filming = film_named(real_films(size, 1), "broadcast").filming;
    made.film.filming.exposures = 1;
    made.film.filming.look.flashes.clear();
    made.pieces = pieces_of(frames, seed);
    const Filming& filming = made.film.filming;
    const double larger = size / 0.5; // the focal lengths are those of 640 x 360
    const int count = frames + 1000;  // a close-up may run on after the last play
    made.shots.emplace_back(
        place, [=](double s) { return of_main_camera(s, pace, larger * focal_px); }, count, 0, filming);
    made.shots.emplace_back(
        place,
        [=](double s) {
            return Aim{{0.4 * std::sin(s), 1.5 + 0.5 * std::sin(0.7 * s)}, larger * 2600.0};
        },
        count, 0, filming);
    made.shots.emplace_back(
        demo::Vec3{19.0, 16.0, 12.0},
        [=](double s) {
            return Aim{{std::sin(s), 7.0 + std::sin(0.6 * s)}, larger * 760.0};
        },
        count, 0, filming);
    return made;
}

/// Whether a piece begins there that brings the main camera back.
bool comes_back(const LongFilm& film, int frame) {
    const LongFilm::Piece& piece = film.piece_at(frame);
    return frame > 0 && piece.first == frame && piece.camera == LongFilm::main_camera;
}

} // namespace

const LongFilm::Piece& LongFilm::piece_at(int frame) const {
    return *std::prev(std::ranges::upper_bound(pieces, frame, {}, &Piece::first));
}

int LongFilm::frame_of_shot(int frame) const {
    const Piece& piece = piece_at(frame);
    return piece.from + static_cast<int>((frame - piece.first) * piece.pace);
}

std::vector<LongFilm> long_films(int frames, double size) {
    std::vector<LongFilm> films;
    films.push_back(long_film("a period on television", {-24.0, 22.0, 11.0}, 1.0, 875.0, frames, 1, size));
    films.push_back(long_film("a period from a tripod", {-22.0, 27.0, 7.0}, 0.6, 700.0, frames, 2, size));
    return films;
}

void write_once(const LongFilm& film, const std::filesystem::path& path) {
    if (std::filesystem::exists(path)) return;
    FilmWriter writer(path.string(), {.width_px = film.film.filming.size.width_px,
                                      .height_px = film.film.filming.size.height_px,
                                      .crf = film.film.crf,
                                      .gop = 180,
                                      .preset = "veryfast"});
    for (int frame = 0; frame < film.film.frames; ++frame)
        writer.add(film.shot_at(frame).picture(film.frame_of_shot(frame)).rgb);
    writer.finish();
}

LongScore carried_through(const LongFilm& film, const std::filesystem::path& path,
                          const HearOfLongFilm& hear) {
    const auto fit = coach_fit(film.film, film.shots[LongFilm::main_camera], 0, 1);
    if (!fit) throw std::logic_error("the first frame shows fewer than five landmarks");
    LongScore score;
    int since_cut = 1000; // frames for which the main camera is back and was not held
    FilmReader reader(path.string(), {.cache_bytes = std::size_t{96} << 20});
    carry_to(reader, {demo::demo_rules, *fit, 0}, film.film.frames - 1,
             [&](std::int64_t at, const std::optional<CarriedFrame>& now) {
                 const int frame = static_cast<int>(at);
                 const bool held = now && now->state == CarryState::held;
                 const LongFilm::Camera camera = film.piece_at(frame).camera;
                 if (camera == LongFilm::other_camera) {
                     ++score.others;
                     score.taken += held ? 1 : 0;
                     return true;
                 }
                 const double error_m =
                     net_area_error_m(now ? now->fit : *fit, film.shot_at(frame), film.frame_of_shot(frame));
                 if (hear && now) hear(frame, *now, error_m);
                 if (held && error_m > 3.0 * now->sigma_m + 0.05) ++score.wrong;
                 if (camera == LongFilm::close_up) return true;
                 if (comes_back(film, frame)) {
                     ++score.cuts;
                     since_cut = 0;
                 }
                 if (held && since_cut <= 30) ++score.soon;
                 since_cut = held ? 1000 : since_cut + 1;
                 if (error_m < 0.0) return true;
                 ++score.shown;
                 if (!held) return true;
                 ++score.held;
                 score.squared += error_m * error_m;
                 return true;
             });
    return score;
}

} // namespace ropeline
