#include "carry/films.h"

#include "carry/encoder.h"
#include "demo/filming.h"
#include "film/film_writer.h"
#include "follow/carry_walk.h"
#include "rink/landmarks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <stdexcept>

namespace ropeline {
namespace {

constexpr demo::Vec3 television_place{-24.0, 22.0, 11.0};

Filming television() {
    Filming filming;
    filming.television = true;
    filming.grain = 1;
    filming.look.softness_px = 0.3;
    return filming;
}

/// Follows the play between the net and the blue line.
Aim follow_play(double s, double pace, double focal_px) {
    return {{1.5 * std::sin(0.7 * pace * s), 7.5 + 5.0 * std::sin(pace * s) + 1.0 * std::sin(2.7 * pace * s)},
            focal_px * (1.0 + 0.12 * std::sin(0.5 * pace * s))};
}

std::vector<RealFilm> full_size() {
    const auto calm = [](double s) { return follow_play(s, 0.9, 1750.0); };
    const auto fast = [](double s) { return follow_play(s, 1.9, 1750.0); };
    std::vector<RealFilm> films;
    const auto add = [&](const char* name, demo::Vec3 place, const std::function<Aim(double)>& aim,
                         double bar_m, const auto& change) {
        RealFilm film{name, place, aim, 0, television(), 27, bar_m};
        change(film);
        films.push_back(film);
    };
    add("calm", television_place, calm, 0.06, [](RealFilm&) {});
    add("graphic", television_place, calm, 0.06, [](RealFilm& film) { film.filming.look.graphic = true; });
    add("crowd", television_place, calm, 0.06, [](RealFilm& film) { film.filming.look.crowd = true; });
    add("flashes", television_place, calm, 0.06,
        [](RealFilm& film) { film.filming.look.flashes = {40, 41, 95, 160, 163, 230}; });
    add("lens", television_place, calm, 0.10, [](RealFilm& film) { film.filming.radial = 0.04; });
    add("painted", television_place, calm, 0.10, [](RealFilm& film) { film.filming.as_painted = true; });
    add("fast", television_place, fast, 0.10, [](RealFilm& film) { film.filming.exposures = 4; });
    add("broadcast", television_place, fast, 0.10, [](RealFilm& film) {
        film.crf = 26;
        film.filming.exposures = 3;
        film.filming.shutter = 0.25;
        film.filming.radial = 0.04;
        film.filming.as_painted = true;
        film.filming.look.graphic = film.filming.look.crowd = true;
        film.filming.look.flashes = {120, 200};
    });
    add(
        "close up and out", television_place,
        [](double s) {
            const double out = std::clamp((s - 1.5) / 4.0, 0.0, 1.0);
            return Aim{{0.5 * std::sin(s), 2.0 + 4.0 * out + 1.2 * std::sin(0.8 * s)},
                       4200.0 * std::pow(1600.0 / 4200.0, out)};
        },
        0.10, [](RealFilm& film) { film.filming.look.crowd = true; });
    add(
        "fixed end", {0.0, 42.0, 9.0},
        [](double) {
            return Aim{{0.0, 5.0}, 1900.0};
        },
        0.06, [](RealFilm& film) { film.filming.radial = -0.06; });
    add(
        "tripod", {-22.0, 27.0, 7.0}, [](double s) { return follow_play(s, 0.6, 1250.0); }, 0.10,
        [](RealFilm& film) {
            film.filming.look.crowd = true;
            film.filming.radial = 0.03;
        });
    add(
        "phone", {-13.5, 15.0, 4.5},
        [](double s) {
            return Aim{{-0.5 + 0.15 * std::sin(13.0 * s) + std::sin(0.9 * s),
                        4.5 + 2.5 * std::sin(0.8 * s) + 0.12 * std::sin(17.0 * s)},
                       850.0};
        },
        0.20,
        [](RealFilm& film) {
            film.crf = 30;
            film.filming.radial = -0.03;
            film.filming.exposures = 4;
        });
    add(
        "interlaced", television_place, [](double s) { return follow_play(s, 1.2, 1750.0); }, 0.10,
        [](RealFilm& film) { film.filming.interlaced = true; });
    add("uneven rate", television_place, calm, 0.10, [](RealFilm& film) { film.filming.jitter = 0.4; });
    add(
        "phone at the glass", {-14.2, 7.5, 1.9},
        [](double s) {
            return Aim{{-0.5 + 0.12 * std::sin(13.0 * s) + 1.2 * std::sin(0.9 * s),
                        3.0 + 2.0 * std::sin(0.8 * s) + 0.1 * std::sin(17.0 * s)},
                       850.0};
        },
        0.20,
        [](RealFilm& film) {
            film.crf = 30;
            film.filming.readout_s = 0.02;
            film.filming.look.mirrored_lights = film.filming.look.glass = true;
        });
    return films;
}

bool in_picture(const demo::PinholeCamera& camera, const demo::Projected& seen, double margin) {
    return seen.range_m > 0.0 && seen.at.x_px > margin && seen.at.y_px > margin &&
           seen.at.x_px < camera.size.width_px - margin && seen.at.y_px < camera.size.height_px - margin;
}

demo::Projected seen_by(const demo::PinholeCamera& camera, IcePoint at) {
    return demo::project(camera, demo::axes(camera), {at.x_m, at.y_m, 0.0});
}

/// Near the net, of the places that `camera_showing` has in its picture; negative when it has none.
double worst_error_m(const RinkFit& fit, const std::function<demo::PinholeCamera(IcePoint)>& camera_showing) {
    double worst_m = -1.0;
    for (const IcePoint place : {IcePoint{-1.5, 0.5}, IcePoint{1.5, 0.5}, IcePoint{0.0, 2.0}}) {
        const demo::PinholeCamera camera = camera_showing(place);
        const demo::Projected seen = seen_by(camera, place);
        if (!in_picture(camera, seen, 4.0)) continue;
        const auto ice = ice_at(fit, seen.at);
        worst_m = std::max(worst_m, ice ? distance(*ice, place) : 99.0);
    }
    return worst_m;
}

/// Carries from one frame to the end in one direction, counting what is told.
void count(CarryScore& score, FilmReader& film, const FilmedShot& shot, const KeyFit& key, std::int64_t last,
           const std::function<void(int, const std::optional<CarriedFrame>&, double)>& hear) {
    carry_to(film, key, last, [&](std::int64_t frame, const std::optional<CarriedFrame>& now) {
        const int at = static_cast<int>(frame);
        const double error_m = now ? net_area_error_m(now->fit, shot, at) : -1.0;
        hear(at, now, error_m);
        const bool shows_net = net_area_error_m(RinkFit{}, shot, at) >= 0.0;
        if (!shows_net) return true;
        ++score.shown;
        if (now && now->state == CarryState::unsure) ++score.unsure;
        if (!now || now->state != CarryState::held) return true;
        ++score.held;
        score.squared += error_m * error_m;
        score.worst_m = std::max(score.worst_m, error_m);
        if (error_m > 3.0 * now->sigma_m + 0.05) ++score.wrong;
        return true;
    });
}

} // namespace

std::vector<RealFilm> real_films(double scale, int frames) {
    std::vector<RealFilm> films = full_size();
    for (RealFilm& film : films) {
        film.frames = frames;
        film.filming.keeps_size = true;
        film.filming.size = {static_cast<int>(std::lround(1280 * scale)),
                             static_cast<int>(std::lround(720 * scale))};
        if (scale < 1.0) film.filming.look.softness_px = 0.3;
        film.aim_at_s = [aim = film.aim_at_s, scale](double s) {
            Aim at = aim(s);
            at.focal_px *= scale;
            return at;
        };
    }
    return films;
}

const RealFilm& film_named(const std::vector<RealFilm>& films, const std::string& name) {
    const auto found = std::ranges::find(films, name, &RealFilm::name);
    if (found == films.end()) throw std::out_of_range("no film is called " + name);
    return *found;
}

RealFilm looking_anywhere(RealFilm film, unsigned seed) {
    const double focal_px = film.aim_at_s(0.0).focal_px;
    film.aim_at_s = [seed, focal_px](double s) {
        std::mt19937 random(seed + static_cast<unsigned>(std::lround(30.0 * s)));
        std::uniform_real_distribution<double> share;
        const double x_m = -12.0 + 24.0 * share(random), y_m = -3.0 + 58.0 * share(random);
        return Aim{{x_m, y_m}, focal_px * std::exp(-0.5 + 1.4 * share(random))};
    };
    film.filming.exposures = 1;
    film.filming.walk = [](double) { return demo::Vec3{}; }; // no panorama of it all for a picture or two
    return film;
}

FilmedShot shot_of(const RealFilm& film) {
    return {film.place, film.aim_at_s, film.frames, 300, film.filming};
}

void write_once(const RealFilm& film, const FilmedShot& shot, const std::filesystem::path& path) {
    if (std::filesystem::exists(path)) return;
    const Filming& filming = film.filming;
    if (filming.interlaced || filming.jitter > 0.0) {
        demo::Canvas canvas(filming.size);
        encode(path, {filming.size, film.crf, filming.interlaced, filming.jitter}, film.frames,
               [&](int frame) {
                   canvas = shot.picture(frame);
                   return std::span<const std::uint8_t>(canvas.rgb);
               });
        return;
    }
    FilmWriter writer(path.string(), {.width_px = film.filming.size.width_px,
                                      .height_px = film.filming.size.height_px,
                                      .crf = film.crf,
                                      .gop = 180,
                                      .preset = "veryfast"});
    for (int frame = 0; frame < film.frames; ++frame)
        writer.add(shot.picture(frame).rgb);
    writer.finish();
}

std::optional<RinkFit> coach_fit(const RealFilm& film, const FilmedShot& shot, int frame, unsigned seed) {
    const demo::PinholeCamera& camera = shot.camera(frame);
    std::mt19937 random(seed);
    std::normal_distribution<double> noise;
    const RuleBook& book = rule_book(demo::demo_rules);
    const RuleBook painted = film.filming.as_painted ? demo::as_painted(book) : book;
    std::vector<LandmarkClick> clicks;
    for (const char* name :
         {"left_post", "right_post", "crease_top", "left_spot", "right_spot", "left_circle_high",
          "right_circle_inner", "left_circle_low", "right_circle_low", "left_circle_inner",
          "left_inner_l_high", "right_circle_high", "left_trapezoid_foot", "right_trapezoid_foot"}) {
        const auto mark = find_landmark(book, name), there = find_landmark(painted, name);
        if (!mark || !there) continue;
        const IcePoint off{0.03 * noise(random), 0.03 * noise(random)};
        const demo::Projected seen = seen_by(shot.camera_showing(frame, there->at), there->at + off);
        if (!in_picture(camera, seen, 6.0) || clicks.size() == 9) continue;
        clicks.push_back(
            {{seen.at.x_px + noise(random), seen.at.y_px + noise(random)}, mark->at, mark->label});
    }
    if (clicks.size() < 5) return std::nullopt;
    return fit_rink(RinkClicks{clicks, {}}, camera.size, {.lens = LensChoice::automatic});
}

double net_area_error_m(const RinkFit& fit, const FilmedShot& shot, int frame) {
    return worst_error_m(fit, [&](IcePoint at) { return shot.camera_showing(frame, at); });
}

double net_area_error_m(const RinkFit& fit, const demo::PinholeCamera& camera) {
    return worst_error_m(fit, [&](IcePoint) { return camera; });
}

CarryScore carried_through(const RealFilm& film, const FilmedShot& shot, const std::filesystem::path& path,
                           const HearOfFrame& hear) {
    FilmReader reader(path.string(), {.cache_bytes = std::size_t{96} << 20});
    std::vector<int> clickable;
    for (int frame = 0; frame < shot.count(); ++frame) {
        if (net_area_error_m(RinkFit{}, shot, frame) < 0.0) continue;
        clickable.push_back(frame);
    }
    CarryScore score;
    for (const std::size_t start : {std::size_t{0}, clickable.size() / 2, clickable.size() - 1}) {
        // A coach clicks on a frame where it can be done: the next one that shows enough.
        std::size_t at = start;
        std::optional<RinkFit> fit;
        for (std::size_t tried = 0; tried < clickable.size() && !fit; ++tried) {
            at = (start + tried) % clickable.size();
            try {
                fit = coach_fit(film, shot, clickable[at], static_cast<unsigned>(start + 1));
            } catch (const FitError&) {
                ++score.refused;
                break;
            }
        }
        if (!fit) {
            score.shown += static_cast<int>(clickable.size());
            continue;
        }
        const KeyFit key{demo::demo_rules, *fit, clickable[at]};
        const auto heard = [&](int frame, const std::optional<CarriedFrame>& now, double error_m) {
            if (hear) hear(clickable[at], frame, now, error_m);
        };
        try {
            count(score, reader, shot, key, shot.count() - 1, heard);
            if (key.frame > 0) count(score, reader, shot, key, 0, heard);
        } catch (const FitError&) {
            ++score.refused;
            score.shown += static_cast<int>(clickable.size());
        }
    }
    return score;
}

} // namespace ropeline
