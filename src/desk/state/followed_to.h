// Marks that were followed through the film from one frame to another.
#pragma once

#include "season/records.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace ropeline {

/// Where the marks of a moment were followed to through the film.
struct FollowedTo {
    Moment from;            ///< as it was when they were followed
    std::int64_t frame = 0; ///< of the same film
    std::vector<std::optional<ImagePoint>>
        at; ///< of each of its marks; nothing of one that is not surely there
};

} // namespace ropeline
