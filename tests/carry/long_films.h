// Films as long as a period: plays with cuts, close-ups, replays and a second camera between, with the truth of every
// frame.
#pragma once

#include "carry/films.h"

namespace ropeline {

struct LongFilm {
    enum Camera { main_camera, close_up, other_camera };
    /// A piece of the film: which camera is on, from which of its frames, and how fast that is shown.
    struct Piece {
        int first = 0;
        Camera camera = main_camera;
        int from = 0;
        double pace = 1.0; ///< under 1 for a replay
    };
    RealFilm film;
    std::vector<FilmedShot> shots; ///< by camera; the close-up stands where the main camera does
    std::vector<Piece> pieces;

    const Piece& piece_at(int frame) const;
    int frame_of_shot(int frame) const;
    const FilmedShot& shot_at(int frame) const {
        return shots[static_cast<std::size_t>(piece_at(frame).camera)];
    }
};

/// Two of them, of a television camera in the stands and of a tripod high at the side; `size` 1 is 1280 x 720.
std::vector<LongFilm> long_films(int frames, double size = 0.5);

void write_once(const LongFilm& film, const std::filesystem::path& path);

struct LongScore {
    int shown = 0,
        held = 0;  ///< frames of the main camera that show the net, and those of them that were held
    int wrong = 0; ///< held, but off by more than three sigmas and 5 cm
    int others = 0, taken = 0; ///< frames of the other camera, and those of them that were held
    int cuts = 0, soon = 0; ///< returns to the main camera, and those after which it was held within a second
    double squared = 0.0;
};

/// Hears of every frame of the main camera and of its close-ups.
using HearOfLongFilm = std::function<void(int frame, const CarriedFrame& now, double error_m)>;

/// Carried from its first frame to its last.
LongScore carried_through(const LongFilm& film, const std::filesystem::path& path,
                          const HearOfLongFilm& hear = {});

} // namespace ropeline
