// The handout: a folder with one page and its clips, for one goalie to take home. It opens from disk, asks for the read and the
// place before it shows what came, and saves the answers as a small file that comes back to the coach.
#pragma once

#include "reel/reel.h"

#include <filesystem>
#include <string>
#include <vector>

namespace ropeline {

struct HandoutOptions {
    Goalie goalie;
    std::string season, league;
    bool notes = false;          ///< the coach's notes as they were written: they may name others
    double run_up_s = 2.5;       ///< of the film before the call
    double stops_before_s = 0.1; ///< the film stops so long before the moment; see HandoutShot
    int clip_height_px = 540;    ///< at most
    std::string preset = "veryfast";
};

/// A decision as the page asks for it: at the pass where a pass came and its moment was marked, else at the moment the play is
/// about. None where puck and goalie are not both on the ice: then the page only shows the clip.
const ShownMoment* asked_moment(const ShownPlay& play);

/// Net left from places on the ice, for the page to look up: rows from the goal line out, each from left to right.
struct LeftGrid {
    double left_m = -3.6, near_m = 0.0, step_m = 0.3;
    int across = 25, out = 25;
    std::vector<double> left; ///< shares of 1
    double best = 0.0;        ///< from the best place
};
std::optional<LeftGrid> left_grid(const ShownPlay& play, const ShownMoment& shown);

/// The whole page. Names nobody but the goalie.
/// In      `facts`: that goalie's.
std::string handout_page(const std::vector<ShownPlay>& plays, std::span<const ShotFact> facts,
                         const HandoutOptions& options);
/// "clips/007-call.mp4": no word of the season's in it.
std::string clip_name(std::size_t index, bool answer);

/// Writes index.html and clips/ into the folder, made when it is missing. Blocking; any thread.
/// In      plays of that goalie alone, each with its film there.
/// Out     stopped: what this call had written is gone again.
/// Throws  ReelError for a folder that holds something else already; FilmError, UnwritableFile: one line.
ReelEnd make_handout(const std::vector<ShownPlay>& plays, std::span<const ShotFact> facts,
                     const std::filesystem::path& folder, const HandoutOptions& options,
                     const Going& going = {});

} // namespace ropeline
