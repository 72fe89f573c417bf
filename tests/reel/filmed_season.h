// A season with a film whose every frame is a shade of grey of its own, seen by a camera of which everything is known.
#pragma once

#include "reel/shown_play.h"
#include "season/sample.h"

#include <filesystem>
#include <string>

namespace ropeline::test {

struct FilmedNames {
    std::string season = "Winter", goalie = "Ilse Tamm", home = "Saltmarsh Herons", away = "Quarry Lamps",
                note = "late to the pass";
};

/// A film of 90 frames at 30000/1001 Hz, 640 x 360, grey 40 + 2 n in frame n, a tone of 440 Hz; a goalie's shot with a pass in
/// frame 30 and a release in frame 48, and the other goalie's shot on the same film.
struct FilmedSeason {
    explicit FilmedSeason(const FilmedNames& names = {});
    std::filesystem::path season() const { return folder / "a.season"; }
    ShownPlay play() const; ///< the goalie's

    sample::Folder folder;
    Id shot, other_shot, goalie, other_goalie;
};

constexpr int film_frames = 90, pass_frame = 30, release_frame = 48;
constexpr int grey_of(std::int64_t frame) {
    return 40 + 2 * static_cast<int>(frame);
}

/// Where the camera sees a place on the ice, by its own formula.
ImagePoint camera_sees(IcePoint at);

} // namespace ropeline::test
