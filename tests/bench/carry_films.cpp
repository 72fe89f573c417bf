// How well a fit is carried through rendered films that have what real ones have: a line a film.
// carry_films FOLDER WIDTH FRAMES [NAME ...] [--frames]: films are written into the folder once and read from it
// afterwards. --frames tells of every frame.
#include "carry/films.h"

#include <fmt/core.h>

#include <algorithm>
#include <cstdio>
#include <ctime>
#include <exception>
#include <string>
#include <vector>

using namespace ropeline;

namespace {

double processor_s() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

void tell(int start, int frame, const std::optional<CarriedFrame>& now, double error_m) {
    if (!now) return;
    fmt::print("  from {:>3} at {:>3} {:<7} off {:>6.3f} m sigma {:.3f} rms {:.2f} px paint {:>3} of {:>3} "
               "features {:>3} "
               "radial {:.3f}\n",
               start, frame, key_of(now->state), error_m, now->sigma_m, now->rms_px, now->paint_agreed,
               now->paint_expected, now->features, now->fit.radial);
}

void show(const RealFilm& film, const std::filesystem::path& folder, const HearOfFrame& hear) {
    const FilmedShot shot = shot_of(film);
    const std::filesystem::path path = folder / (film.name + ".mp4");
    write_once(film, shot, path);
    const double started_s = processor_s();
    const CarryScore score = carried_through(film, shot, path, hear);
    fmt::print("{:<18} {:>6.1f} % held, {:>4.1f} unsure  RMS {:.3f} m  worst {:.3f} m  wrong {:>3} of {:>4}  "
               "refused {}  "
               "{:.1f} ms a frame, decoding included\n",
               film.name, 100.0 * score.share(), 100.0 * score.unsure / std::max(1, score.shown),
               score.rms_m(), score.worst_m, score.wrong, score.held, score.refused,
               1e3 * (processor_s() - started_s) / std::max(1, score.shown));
    std::fflush(stdout);
}

} // namespace

int main(int count, char** words) {
    if (count < 4) {
        fmt::print(stderr, "carry_films FOLDER WIDTH FRAMES [NAME ...]\n");
        return 2;
    }
    try {
        std::filesystem::create_directories(words[1]);
        std::vector<std::string> wanted(words + 4, words + count);
        const bool frames = std::erase(wanted, "--frames") > 0;
        for (const RealFilm& film : real_films(std::stoi(words[2]) / 1280.0, std::stoi(words[3]))) {
            if (wanted.empty() || std::ranges::find(wanted, film.name) != wanted.end())
                show(film, words[1], frames ? HearOfFrame{tell} : HearOfFrame{});
        }
    } catch (const std::exception& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 1;
    }
    return 0;
}
