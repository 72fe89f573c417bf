// Rendered films that have what real ones have, each with the truth of every frame, and how well a fit is carried
// through them.
#pragma once

#include "camera/carry.h"
#include "carry/filmed.h"

#include <filesystem>
#include <string>
#include <vector>

namespace ropeline {

struct RealFilm {
    std::string name;
    demo::Vec3 place;
    std::function<Aim(double)> aim_at_s;
    int frames = 0;
    Filming filming;
    int crf = 27;
    double bar_m = 0.10; ///< most error near the net, root mean square
};

/// All of them, at a share of their size and with so many frames.
std::vector<RealFilm> real_films(double scale, int frames);
/// One of them by name.
/// Throws  std::out_of_range.
const RealFilm& film_named(const std::vector<RealFilm>& films, const std::string& name);

/// The same camera looking anywhere, a frame a place, zoomed as it comes: the ends, the middle, boards, crowd.
RealFilm looking_anywhere(RealFilm film, unsigned seed);

FilmedShot shot_of(const RealFilm& film);
/// Encoded as broadcasters do: key frames six seconds apart, B-frames. Kept where the file is there already.
void write_once(const RealFilm& film, const FilmedShot& shot, const std::filesystem::path& path);

/// The fit of clicks as a coach makes them on a frame: a pixel of noise, paint 3 cm off.
/// Out     nothing where fewer than five landmarks are in sight.
std::optional<RinkFit> coach_fit(const RealFilm& film, const FilmedShot& shot, int frame, unsigned seed);

/// Worst error near the net of what the picture shows of it; negative when it shows nothing.
double net_area_error_m(const RinkFit& fit, const FilmedShot& shot, int frame);
/// The same of a camera that takes all of a picture at once.
double net_area_error_m(const RinkFit& fit, const demo::PinholeCamera& camera);

struct CarryScore {
    int shown = 0, held = 0; ///< frames that show the net, and those of them that were held
    int unsure = 0;
    int wrong = 0; ///< held, but off by more than three sigmas and 5 cm
    double squared = 0.0, worst_m = 0.0;
    int refused = 0; ///< starts whose clicks were refused

    double share() const { return shown > 0 ? static_cast<double>(held) / shown : 0.0; }
    double rms_m() const { return held > 0 ? std::sqrt(squared / held) : 0.0; }
};

/// Hears of every frame that is carried to: how far it is off near the net, negative where that is not in sight.
using HearOfFrame =
    std::function<void(int start, int frame, const std::optional<CarriedFrame>& now, double error_m)>;

/// Carried from the first, the middle and the last frame on which five landmarks are in sight, both ways.
CarryScore carried_through(const RealFilm& film, const FilmedShot& shot, const std::filesystem::path& path,
                           const HearOfFrame& hear = {});

} // namespace ropeline
