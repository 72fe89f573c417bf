// Two lots of shots beside each other: two goalies, two halves of a season, two reviewers.
#pragma once

#include "season/records.h"
#include "tally/difference.h"

#include <optional>
#include <span>

namespace ropeline {

struct ComparedShare {
    Share first, second;
    std::optional<Difference> plain;             ///< first less second; none where one has nothing
    std::optional<Difference> within_like_plays; ///< the same within like plays; only of goals
};

struct SideBySide {
    ComparedShare goals; ///< of unblocked attempts
    ComparedShare right_depth, read_it;
};

/// Plays are like when situation, what came and, of the puck when it was shot, the same of three distances (under 6 m,
/// under 12 m, beyond) are the same.
SideBySide side_by_side(std::span<const ShotFact> first, std::span<const ShotFact> second);

} // namespace ropeline
