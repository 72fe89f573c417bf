// A shot as it is shown to somebody: its film, its moments with what is drawn on each, and the words beside them. Taken out of
// a season file once; nothing here looks back at it.
#pragma once

#include "season/fit_here.h"
#include "season/season_file.h"
#include "sheet/ice_drawing.h"
#include "sheet/puck_eye.h"

#include <cstddef>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

struct ShownMoment {
    Moment moment;
    RuleBookId rules{};
    std::optional<RinkFit> fit;       ///< turned to the goalie's net; none: nothing can be drawn on the film
    std::vector<IceLine> lines;       ///< on the ice, for whatever the moment has
    std::optional<PuckEye> eye;       ///< none without puck and goalie, or where the puck sees no net
    std::optional<Decision> decision; ///< none without puck and goalie
    std::string headline;             ///< the reviewer's word first where there is one
    std::string advice;               ///< a sentence; empty on the post
    std::vector<std::string> figures; ///< what it rests on
};

/// What the season knows of a film: read once for all its plays, since a carried fit of a long film is large.
struct KnownFilm {
    std::vector<StoredFit> fits; ///< for the rink while it runs
    std::vector<StoredCarry> carries;
    std::vector<std::byte> index; ///< FilmOptions::kept_index; empty: the film is read through
};

struct ShownPlay {
    Shot shot;
    Game game;
    std::string home, away, goalie;
    Parameters parameters; ///< as they hold for this goalie
    Film film;             ///< no id: the shot is on no film
    std::filesystem::path film_path;
    std::vector<ShownMoment> moments; ///< the steps of the play on the shot's own film, in the film's order
    std::shared_ptr<const KnownFilm> known;
};

/// In      the shots in the order wanted.
/// Throws  SeasonError::refused for an id that the season has not, one line.
std::vector<ShownPlay> shown_plays(const SeasonFile& file, std::span<const Id> shots,
                                   LengthUnit unit = LengthUnit::metres);

/// The moment the play is about; null without any.
const ShownMoment* main_moment(const ShownPlay& play);

/// "P2 14:35 · 2-on-1 · rush"; "Shot" where nothing is known of it.
std::string name_of(const ShownPlay& play);
/// "Saltmarsh Herons at Ferry Lamps, 2026-11-25"; empty where nothing is known.
std::string game_of(const ShownPlay& play);
/// "At the pass".
std::string name_of(MomentKind kind);

} // namespace ropeline
