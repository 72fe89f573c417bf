// The rink as it lies in the frames of the open game.
#pragma once

#include "camera/film_camera.h"
#include "desk/state/log_state.h"
#include "follow/carry_ahead.h"
#include "season/fit_here.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace ropeline {

/// In the frame of the film on screen; points into the state.
FitHere fit_here(const LogState& state, std::int64_t frame);
/// The rink as it lies for a moment of the shot, on whichever film that is, turned to the net its goalie
/// defends.
FitHere fit_for(const LogState& state, const Shot& shot, const Moment& moment);
/// The rule book the moment's fit was made by, else the game's.
RuleBookId rules_for(const LogState& state, const Moment& moment);
/// The rule book that this frame of the film on screen was fitted with, else the game's.
RuleBookId rules_at(const LogState& state, std::int64_t frame);
/// Where a clicked fit of the film on screen was carried to; nothing when it was not.
std::optional<KnownStretch> known_stretch(const LogState& state, const StoredFit& key);
/// What the clicked fits of the film on screen but one say of its cameras.
std::vector<FilmCamera> cameras_of_film(const LogState& state, const Id& besides);
/// The clicked fits of the film, by frame.
std::vector<StoredFit> clicked_fits(const LogState& state);

} // namespace ropeline
