// The rink as it lies in a frame, and how that is known.
#pragma once

#include "desk/state/log_state.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace ropeline {

struct FitHere {
    enum class Source {
        none,
        clicked, ///< on this very frame
        carried, ///< followed here through the film
        assumed, ///< clicked on another frame, right only if the camera has not moved since
        lost,    ///< followed, but lost on the way: nothing can be measured
    } source = Source::none;
    const StoredFit* key = nullptr; ///< the clicked fit it rests on; as long as LogState::revision stands
    std::optional<RinkFit> fit;     ///< nothing when none or lost
    CarryState state = CarryState::held;
    double sigma_m = 0.0; ///< of a place on the ice, when carried
};

/// In the frame of the film on screen.
FitHere fit_here(const LogState& state, std::int64_t frame);
/// The rink as it lies for a moment of the shot, on whichever film that is, turned to the net its goalie
/// defends.
FitHere fit_for(const LogState& state, const Shot& shot, const Moment& moment);
/// The rule book the moment's fit was made by, else the game's.
RuleBookId rules_for(const LogState& state, const Moment& moment);
/// The rule book that this frame of the film on screen was fitted with, else the game's.
RuleBookId rules_at(const LogState& state, std::int64_t frame);
/// The clicked fits of the film, by frame.
std::vector<StoredFit> clicked_fits(const LogState& state);

} // namespace ropeline
