#include "chances/made_game.h"

#include "chances/made_shift.h"
#include "demo/dice.h"
#include "demo/figure.h"
#include "demo/filming.h"
#include "demo/motion.h"
#include "film/clips.h"
#include "film/film_writer.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <future>

namespace ropeline {
namespace {

using namespace demo;

Vec3 place_of(const GameWanted& wanted, GamePiece::Camera camera) {
    switch (camera) {
    case GamePiece::Camera::main:
    case GamePiece::Camera::replay:
    case GamePiece::Camera::close_up:
        break;
    case GamePiece::Camera::other:
        return {19.0, 16.0, 12.0};
    }
    return wanted.television ? Vec3{-24.0, 22.0, 11.0} : Vec3{-22.0, 27.0, 7.0};
}

/// The camera follows the puck as a man's hands do, a little late; by hand it shakes.
std::vector<PinholeCamera> main_cameras(const GameWanted& wanted, const demo::Play& play) {
    std::vector<IcePoint> aim;
    std::vector<double> focal;
    const double scale = wanted.size.width_px / 1280.0;
    for (const Instant& instant : play.frames) {
        const IcePoint puck = shadow_of(instant.puck);
        aim.push_back({0.55 * puck.x_m, std::clamp(0.85 * puck.y_m + 1.5, 4.5, 45.0)});
        focal.push_back(scale * (wanted.television ? 1750.0 : 1300.0) *
                        (1.0 + 0.15 * (1.0 - ease(puck.y_m, 4.0, 16.0))));
    }
    smooth(aim, 14.0);
    smooth(focal, 25.0);
    std::vector<PinholeCamera> cameras;
    for (std::size_t f = 0; f < aim.size(); ++f) {
        const double t = static_cast<double>(f) / film_rate_hz, shake = wanted.television ? 0.01 : 0.08;
        const Vec3 sway{shake * std::sin(11.0 * t), shake * std::sin(13.0 * t + 1.0),
                        shake * std::sin(9.0 * t)};
        cameras.push_back(
            aimed(place_of(wanted, GamePiece::Camera::main), on_ice(aim[f], 0.6) + sway, focal[f]));
        cameras.back().size = wanted.size;
    }
    return cameras;
}

std::unique_ptr<Panorama> panorama_of(const Arena& arena, const std::vector<PinholeCamera>& cameras) {
    double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9, focal = 0.0;
    for (const PinholeCamera& camera : cameras) {
        const CameraAxes view = axes(camera);
        focal = std::max(focal, camera.focal_px);
        for (const double u : {0.0, 0.5, 1.0}) {
            for (const double v : {0.0, 0.5, 1.0}) {
                const Vec3 way =
                    ray_through(camera, view, {u * camera.size.width_px, v * camera.size.height_px});
                const double azimuth = azimuth_near(cameras[0].pan_rad, way),
                             slope = -way.z / std::hypot(way.x, way.y);
                left = std::min(left, azimuth), right = std::max(right, azimuth);
                top = std::min(top, slope), bottom = std::max(bottom, slope);
            }
        }
    }
    return std::make_unique<Panorama>(arena, cameras[0].position, left - 0.02, right + 0.02, top - 0.02,
                                      bottom + 0.02, focal * 0.92);
}

} // namespace

MadeGame::MadeGame(const GameWanted& wanted) : wanted_(wanted) {
    look_.crowd = look_.graphic = wanted.television;
    look_.softness_px = 0.3;
    look_.glass = !wanted.television && wanted.seed % 2 == 0;
    arena_ = std::make_unique<Arena>(as_painted(rule_book(demo_rules)), wanted.seed,
                                     wanted.television ? television_paint() : PaintLook{});
    make_shifts();
    cut_film();
    note_truth();
}

void MadeGame::paint_panoramas() const {
    std::vector<PinholeCamera> all;
    for (const Shift& shift : shifts_)
        all.insert(all.end(), shift.cameras.begin(), shift.cameras.end());
    for (const GamePiece::Camera camera : {GamePiece::Camera::main, GamePiece::Camera::replay,
                                           GamePiece::Camera::close_up, GamePiece::Camera::other}) {
        std::vector<PinholeCamera> views = all;
        if (camera == GamePiece::Camera::close_up || camera == GamePiece::Camera::other) {
            views.clear();
            for (double t = 0.0; t < 12.0; t += 0.1)
                views.push_back(camera_at({camera, 0.0, 12.0, 0, 0.0, 1.0, false}, t));
        }
        panoramas_.push_back(camera == GamePiece::Camera::replay ? nullptr : panorama_of(*arena_, views));
    }
}

void MadeGame::make_shifts() {
    Dice dice(wanted_.seed);
    double length_s = 0.0;
    int left = wanted_.chances;
    while (length_s < wanted_.length_s + 60.0) {
        // As many as there must be in what is left of the film, so that all of them find room.
        const double share = left / std::max(1.0, (wanted_.length_s - 40.0 - length_s) / 60.0);
        const int chances =
            std::min(left, static_cast<int>(share) + (dice.chance(share - std::floor(share)) ? 1 : 0));
        left -= chances;
        MadeShift made = make_shift(wanted_.seed * 1000 + static_cast<unsigned>(shifts_.size()), chances);
        left += chances - static_cast<int>(made.chances_s.size()); // a whistle came before the others
        Shift shift{std::move(made.play), {}, made.chances_s, made.faced_off_s, made.goal};
        shift.cameras = main_cameras(wanted_, shift.play);
        length_s += static_cast<double>(shift.play.frames.size()) / film_rate_hz + 8.0;
        shifts_.push_back(std::move(shift));
    }
}

void MadeGame::cut_film() {
    Dice dice(wanted_.seed + 5);
    double at = 0.0;
    const auto add = [&](GamePiece::Camera camera, double length_s, std::size_t shift, double from_s,
                         double pace) {
        const bool dissolves = camera == GamePiece::Camera::replay && dice.chance(0.5);
        pieces_.push_back({camera, at, at + length_s, shift, from_s, pace, dissolves});
        at += length_s;
    };
    for (std::size_t number = 0; number < shifts_.size() && at < wanted_.length_s; ++number) {
        const Shift& shift = shifts_[number];
        const double length_s = static_cast<double>(shift.play.frames.size()) / film_rate_hz;
        const double after_whistle_s = wanted_.television ? dice.between(1.5, 4.0) : 11.0;
        const double shown_s = length_s - 12.0 + after_whistle_s;
        add(GamePiece::Camera::main, shown_s, number, 0.0, 1.0);
        if (!wanted_.television) continue;
        add(GamePiece::Camera::close_up, dice.between(2.0, 4.0), number, length_s - 8.0, 1.0);
        if (dice.chance(0.6) && !shift.chances_s.empty()) {
            const double chance_s = shift.chances_s.back();
            add(GamePiece::Camera::replay, 6.0, number, std::max(0.0, chance_s - 2.0), 0.5);
        }
        if (dice.chance(0.5))
            add(GamePiece::Camera::other, dice.between(3.0, 6.0), number, length_s - 7.0, 1.0);
    }
    pieces_.back().last_s = std::max(pieces_.back().last_s, wanted_.length_s);
}

void MadeGame::note_truth() {
    Dice dice(wanted_.seed + 9);
    const double length_s = wanted_.length_s;
    for (const GamePiece& piece : pieces_) {
        if (piece.first_s > 0.0 && piece.first_s < length_s) truth_.cuts_s.push_back(piece.first_s);
        const Shift& shift = shifts_[piece.shift];
        if (piece.camera == GamePiece::Camera::close_up && piece.last_s < length_s && dice.chance(0.5))
            truth_.music.push_back({piece.first_s, piece.last_s});
        if (piece.camera != GamePiece::Camera::main) continue;
        const auto film_s = [&](double shift_s) { return piece.first_s + shift_s - piece.from_s; };
        for (const double chance : shift.chances_s) {
            if (film_s(chance) < length_s - 2.0) truth_.chances_s.push_back(film_s(chance));
        }
        const double whistle = film_s(static_cast<double>(shift.play.frames.size()) / film_rate_hz - 12.0);
        if (whistle < length_s - 1.0) {
            truth_.whistles_s.push_back(whistle);
            if (shift.goal) truth_.goals_s.push_back(whistle);
        }
        if (film_s(shift.faced_off_s) < length_s)
            truth_.still.push_back({piece.first_s, film_s(shift.faced_off_s)});
        if (shift.goal) {
            for (int i = 0; i < 5; ++i)
                truth_.flashes.push_back(static_cast<int>((whistle + 0.35 * i) * wanted_.rate_hz));
        }
    }
    look_.flashes = truth_.flashes;
    for (double at = 15.0; at < length_s - 5.0; at += dice.between(30.0, 70.0))
        truth_.swells_s.push_back(at);
    for (double at = 25.0; at < length_s - 5.0; at += dice.between(40.0, 90.0))
        truth_.whistles_of_crowd.push_back(at);
}

const GamePiece& MadeGame::piece_at(double film_s) const {
    return *std::prev(std::ranges::upper_bound(pieces_, film_s, {}, &GamePiece::first_s));
}

const Instant& MadeGame::instant_at(const GamePiece& piece, double film_s) const {
    const auto& frames = shifts_[piece.shift].play.frames;
    const double shift_s = piece.from_s + piece.pace * (film_s - piece.first_s);
    const auto frame = static_cast<std::size_t>(std::max(0.0, shift_s * film_rate_hz + 0.5));
    return frames[std::min(frame, frames.size() - 1)];
}

PinholeCamera MadeGame::camera_at(const GamePiece& piece, double film_s) const {
    const Shift& shift = shifts_[piece.shift];
    const double t = film_s - piece.first_s, scale = wanted_.size.width_px / 1280.0;
    PinholeCamera camera;
    switch (piece.camera) {
    case GamePiece::Camera::main:
    case GamePiece::Camera::replay: {
        const Instant& now = instant_at(piece, film_s);
        return shift.cameras[static_cast<std::size_t>(&now - shift.play.frames.data())];
    }
    case GamePiece::Camera::close_up:
        camera = aimed(place_of(wanted_, piece.camera),
                       {4.0 + 0.4 * std::sin(t), 14.0 + 0.5 * std::sin(0.7 * t), 1.2}, scale * 6500.0);
        break;
    case GamePiece::Camera::other:
        camera = aimed(place_of(wanted_, piece.camera), {std::sin(t), 7.0 + std::sin(0.6 * t), 0.0},
                       scale * 1500.0);
        break;
    }
    camera.size = wanted_.size;
    return camera;
}

bool MadeGame::net_in_picture(int frame) const {
    const double film_s = static_cast<double>(frame) / wanted_.rate_hz;
    const PinholeCamera camera = camera_at(piece_at(film_s), film_s);
    const Projected seen = project(camera, axes(camera), {0.0, 0.0, 0.5});
    return seen.range_m > 0.0 && seen.at.x_px > 0.0 && seen.at.y_px > 0.0 &&
           seen.at.x_px < camera.size.width_px && seen.at.y_px < camera.size.height_px;
}

PinholeCamera MadeGame::camera(int frame) const {
    const double film_s = static_cast<double>(frame) / wanted_.rate_hz;
    return camera_at(piece_at(film_s), film_s);
}

const Instant& MadeGame::instant(int frame) const {
    const double film_s = static_cast<double>(frame) / wanted_.rate_hz;
    return instant_at(piece_at(film_s), film_s);
}

Canvas MadeGame::scene(const GamePiece& piece, double film_s) const {
    const PinholeCamera camera = camera_at(piece, film_s);
    const Instant& now = instant_at(piece, film_s);
    Canvas canvas(wanted_.size);
    const bool replayed = piece.camera == GamePiece::Camera::replay;
    panoramas_[static_cast<std::size_t>(replayed ? GamePiece::Camera::main : piece.camera)]->draw(canvas,
                                                                                                  camera);
    std::vector<Figure> figures = net_figures(rule_book(demo_rules));
    for (std::size_t who = 0; who < now.skaters.size(); ++who)
        figures.push_back(
            skater_figure(now.skaters[who], who < 5 ? usual_visitors : usual_home, who % 2 == 0));
    figures.push_back(goalie_figure(now.goalie, usual_home, true));
    figures.push_back(puck_figure(now.puck, now.puck_velocity));
    Mask mask(canvas.size);
    draw(canvas, mask, camera, figures);
    return canvas;
}

Canvas MadeGame::picture(int frame) const {
    std::call_once(painted_, [this] { paint_panoramas(); });
    constexpr double dissolve_s = 0.5;
    const double film_s = static_cast<double>(frame) / wanted_.rate_hz;
    const GamePiece& piece = piece_at(film_s);
    Canvas canvas = scene(piece, film_s);
    if (piece.dissolves && film_s < piece.first_s + dissolve_s && &piece != pieces_.data()) {
        const Canvas before = scene(*(&piece - 1), film_s);
        const double share = (film_s - piece.first_s) / dissolve_s;
        for (std::size_t i = 0; i < canvas.rgb.size(); ++i)
            canvas.rgb[i] = static_cast<std::uint8_t>(share * canvas.rgb[i] + (1.0 - share) * before.rgb[i]);
    }
    dress(canvas, look_, camera_at(piece, film_s), frame, wanted_.seed);
    return canvas;
}

void MadeGame::write(const std::filesystem::path& path) const {
    const std::filesystem::path mute = path.string() + ".mute.mp4", heard = path.string() + ".f32";
    FilmWriter writer(mute.string(), {.width_px = wanted_.size.width_px,
                                      .height_px = wanted_.size.height_px,
                                      .rate_numerator = wanted_.rate_hz,
                                      .crf = 26,
                                      .gop = 6 * wanted_.rate_hz,
                                      .preset = "veryfast"});
    constexpr int batch = 8;
    for (int first = 0; first < frames(); first += batch) {
        std::vector<std::future<Canvas>> made;
        for (int frame = first; frame < std::min(first + batch, frames()); ++frame)
            made.push_back(std::async(std::launch::async, [this, frame] { return picture(frame); }));
        for (auto& one : made)
            writer.add(one.get().rgb);
    }
    writer.finish();
    if (wanted_.silent) return std::filesystem::rename(mute, path);
    const std::vector<float> samples = sound_of_game(truth_, wanted_.length_s, wanted_.seed);
    std::ofstream out(heard, std::ios::binary);
    out.write(reinterpret_cast<const char*>(samples.data()),
              static_cast<std::streamsize>(samples.size() * sizeof(float)));
    out.close();
    clips::ffmpeg("-i " + clips::quoted(mute.string()) + " -f f32le -ar " + std::to_string(game_sound_hz) +
                  " -ac 1 -i " + clips::quoted(heard.string()) + " -c:v copy -c:a aac -b:a 96k -shortest " +
                  clips::quoted(path.string()));
    std::filesystem::remove(mute);
    std::filesystem::remove(heard);
}

} // namespace ropeline
