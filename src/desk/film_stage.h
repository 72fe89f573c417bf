// The film on the desk: what decodes it, where it stands, how much of it is seen, and what follows the rink
// through it.
#pragma once

#include "chances/film_scan.h"
#include "chances/joined_marks.h"
#include "desk/film_texture.h"
#include "desk/sound_out.h"
#include "desk/state/film_preview.h"
#include "desk/state/frame_at.h"
#include "desk/state/layout.h"
#include "desk/state/player.h"
#include "desk/state/ribbon_view.h"
#include "desk/state/view_aim.h"
#include "film/film_desk.h"
#include "follow/carry_ahead.h"
#include "follow/fit_proposer.h"
#include "follow/mark_follower.h"
#include "follow/rink_finder.h"
#include "season/records.h"

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace ropeline {

/// The picture of the film where the cursor is over the ribbon.
struct CursorPicture {
    std::unique_ptr<FilmPreview> preview;
    FilmTexture texture;
    std::optional<FrameIndex> wanted; ///< this turn
    std::int64_t within = 0;          ///< frames that lie in a pixel or two of the ribbon
};

/// How the rink is known along the ribbon, from pixel to pixel.
struct FollowedRink {
    enum class Kind : std::uint8_t { unknown, held, unsure, lost };
    std::vector<Kind> along; ///< every second pixel of the strip
    std::uint64_t revision = 0;
    RibbonView view;
    float width = 0.0F;
};

/// A fit from the paint of the frame that is being fitted.
struct Proposal {
    std::optional<std::int64_t> frame; ///< that it was last asked for
    std::unique_ptr<FitProposer> work;
};

/// The known rink along a stretch that a fit was carried.
struct KnownAlong {
    std::size_t frames = 0; ///< that the stretch had when it was read
    std::vector<RinkKnown> rink;
};
using KnownRinks = std::map<std::pair<Id, std::int64_t>, KnownAlong>; ///< by fit and first frame

/// A shot's sign on the ribbon while it is held.
struct SignDrag {
    Id shot_id;
    std::int64_t frame = 0; ///< of the shot
    float from_x = 0.0F;    ///< where it was taken
    bool moved = false;
};

/// Where the film's chances are likely to be: likely_chances.h
struct LikelyChances {
    std::unique_ptr<FilmScan> scan;
    bool asked = false;                    ///< what the season keeps of it was looked up
    bool wanted = true;                    ///< until it was refused: by the film, or by the disk
    FilmMarks found;                       ///< by looking the film through
    FilmMarks shown;                       ///< the same with what the known rink says
    std::optional<std::uint64_t> known_at; ///< the log's revision at which the known rink was read
    KnownRinks known;
};

/// The rink of a frame that no fit was followed to.
struct RinkSearch {
    std::int64_t frame = -1;               ///< that was last looked at
    std::optional<std::uint64_t> asked_at; ///< the log's revision then
    std::vector<StoredFit> fits;           ///< clicked on other frames of the film
    std::set<std::int64_t> looked_for;     ///< frames, by these
    std::unique_ptr<RinkFinder> work;
};

/// Marks on their way from one frame to another.
struct MarkFollowing {
    Moment from;              ///< whose marks were last followed
    std::int64_t frame = -1;  ///< to this one
    std::size_t known_at = 0; ///< fits and carried stretches that there were then
    bool begun = false;       ///< they were followed, or are: once is enough
    std::unique_ptr<MarkFollower> work;
};

struct FilmStage {
    std::unique_ptr<FilmDesk> film;
    std::string path;
    bool kept = false; ///< its row is in the season file
    FilmTexture texture;
    std::optional<FrameIndex> on_screen;
    Player player;
    FilmView view;
    ViewAim aim;              ///< where the view is on its way to
    int step_held = 0;        ///< way of the frame key that is down
    double step_held_s = 0.0; ///< for how long
    SoundOut sound;
    std::optional<double> sound_until_s; ///< nothing later in the film is heard
    bool muted = false;
    RibbonView ribbon;                         ///< the stretch it shows; empty: all of the film
    std::optional<FrameIndex> ribbon_followed; ///< the frame it was last moved for
    std::optional<SignDrag> sign;              ///< held on it
    FollowedRink followed;
    CursorPicture cursor;
    std::unique_ptr<CarryAhead> carry;    ///< follows the clicked fits through the film
    std::vector<ClickedKey> carried_keys; ///< those that it was begun with
    std::optional<std::uint64_t>
        carry_asked; ///< the log's revision at which it was last looked what to follow
    bool carry_wanted = true;
    LikelyChances chances;
    Proposal proposal;
    RinkSearch search;
    MarkFollowing following;
    std::vector<std::unique_ptr<RinkFinder>> let_go; ///< of films that were closed, until they are finished
    std::vector<std::string> not_carried;            ///< clicked fits that cannot be followed, told once each
};

void close_film(FilmStage& stage);
/// The frames of the open film, once it is ready.
std::shared_ptr<const FrameTable> frames_of(const FilmStage& stage);
FrameAt frame_at(const FilmStage& stage);
/// The frame that is seen: the one on screen, else the one that is to come.
std::int64_t frame_seen(const FilmStage& stage);

/// A frame key held this long runs the film that way until it is let go.
constexpr double hold_to_run_s = 0.35;
void let_go_of_step(FilmStage& stage);
/// Moves the playhead.
void pass_film_time(FilmStage& stage, double elapsed_s);

/// While the film is still being read through, its first picture is there already. True while it is awaited.
bool show_opening(FilmStage& stage);
/// Fetches the picture of the frame and of the cursor, and lets the sound run with the film. True while something
/// is awaited.
bool show_frame(FilmStage& stage, const FilmFacts& facts);

} // namespace ropeline
