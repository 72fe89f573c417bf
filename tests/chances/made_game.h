// Games rendered for looking through: face-offs, play in the neutral zone and along the boards, chances, whistles,
// replays, close-ups and a second camera, with the truth of all of it. What real film has and is laid on here: a score
// graphic, a moving crowd, photographers' flashes, dissolves, art on the ice and red advertising on the boards, a hand
// that shakes; in the sound crowd noise that swells by itself too, music, horns, whistles from the stands.
#pragma once

#include "chances/marks.h"
#include "demo/arena.h"
#include "demo/backdrop.h"
#include "demo/canvas.h"
#include "demo/filming_look.h"
#include "demo/pinhole.h"
#include "demo/play.h"

#include <filesystem>
#include <memory>
#include <mutex>
#include <vector>

namespace ropeline {

struct GameWanted {
    unsigned seed = 1;
    double length_s = 1200.0;
    int chances = 15;
    int rate_hz = 30;
    ImageSize size{640, 360};
    bool television = true; ///< else a coach's tripod behind the stands, held by hand now and then
    bool silent = false;
};

struct GamePiece {
    enum class Camera { main, replay, close_up, other };
    Camera camera{};
    double first_s = 0.0, last_s = 0.0; ///< of the film
    std::size_t shift = 0;
    double from_s = 0.0; ///< of the shift
    double pace = 1.0;
    bool dissolves = false; ///< out of the piece before
};

struct GameTruth {
    std::vector<double> chances_s; ///< releases, as the main camera shows them
    std::vector<double> cuts_s;
    std::vector<double> whistles_s; ///< the referee's
    std::vector<double> goals_s;
    std::vector<Stretch> still;            ///< standing for a face-off, seen by the main camera
    std::vector<Stretch> music;            ///< in stoppages
    std::vector<double> whistles_of_crowd; ///< fingers in the mouth, gliding
    std::vector<double> swells_s;          ///< of the crowd for nothing at all
    std::vector<int> flashes;              ///< frames
};

class MadeGame {
public:
    explicit MadeGame(const GameWanted& wanted);

    int frames() const { return static_cast<int>(wanted_.length_s * wanted_.rate_hz); }
    const GameTruth& truth() const { return truth_; }
    const std::vector<GamePiece>& pieces() const { return pieces_; }
    /// Whether the middle of the net's mouth lies in the picture.
    bool net_in_picture(int frame) const;
    demo::Canvas picture(int frame) const;
    /// Who filmed the frame, and who stands where in it.
    demo::PinholeCamera camera(int frame) const;
    const demo::Instant& instant(int frame) const;
    /// Encoded with its sound; key frames six seconds apart, B-frames, as broadcasters do.
    void write(const std::filesystem::path& path) const;

private:
    struct Shift {
        demo::Play play;
        std::vector<demo::PinholeCamera> cameras; ///< the main one's
        std::vector<double> chances_s;
        double faced_off_s = 0.0; ///< until then they stand
        bool goal = false;
    };
    void make_shifts();
    void cut_film();
    void note_truth();
    void paint_panoramas() const;
    const GamePiece& piece_at(double film_s) const;
    demo::PinholeCamera camera_at(const GamePiece& piece, double film_s) const;
    const demo::Instant& instant_at(const GamePiece& piece, double film_s) const;
    demo::Canvas scene(const GamePiece& piece, double film_s) const;

    GameWanted wanted_;
    GameTruth truth_;
    std::vector<Shift> shifts_;
    std::vector<GamePiece> pieces_;
    demo::FilmingLook look_;
    std::unique_ptr<demo::Arena> arena_;
    mutable std::once_flag painted_;
    mutable std::vector<std::unique_ptr<demo::Panorama>>
        panoramas_; ///< of each camera's place; for the first picture
};

/// One sample a moment, 24 kHz.
std::vector<float> sound_of_game(const GameTruth& truth, double length_s, unsigned seed);
constexpr int game_sound_hz = 24000;

} // namespace ropeline
