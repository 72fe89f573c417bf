// The rink as it lies in one frame of a film, and how that is known.
#pragma once

#include "season/season_file.h"

#include <span>

namespace ropeline {

struct FitHere {
    enum class Source {
        none,
        clicked,   ///< on this very frame
        carried,   ///< followed here through the film
        elsewhere, ///< known in other frames only, and not followed here: nothing can be measured
        lost,      ///< followed, but lost on the way: nothing can be measured
    } source = Source::none;
    const StoredFit* key = nullptr; ///< the clicked fit it rests on
    std::optional<RinkFit> fit;     ///< nothing when none, elsewhere or lost
    CarryState state = CarryState::held;
    double sigma_m = 0.0; ///< of a place on the ice, when carried
};

/// In      the fits of one film by frame, which must outlive the answer; where its clicked ones were carried to.
FitHere fit_here(std::span<const StoredFit> fits, std::span<const StoredCarry> carries, std::int64_t frame);

/// Names the fit that a moment rests on. A carried one gets a row of its own in the file, so that the moment can be
/// worked out again from the file alone.
/// In      `fits`: of the moment's film; `here`: of its frame.
void name_fit(SeasonFile& file, const FitHere& here, std::span<const StoredFit> fits, Moment& moment);

} // namespace ropeline
