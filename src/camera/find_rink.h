// The rink of a frame that nothing led to, by fits of the film's other frames: its camera stands where it stood.
#pragma once

#include "camera/carry.h"

#include <optional>
#include <span>

namespace ropeline {

struct FoundRink {
    std::size_t fit = 0; ///< by which of them
    CarriedFrame frame;  ///< held, with covariance
};

/// In      fits of frames of the same film, by whichever of its cameras.
/// Out     nothing where none of those cameras is clearly seen to look here. Takes a second or so a camera.
std::optional<FoundRink> find_rink(std::span<const RinkFit> fits, const RuleBook& rules,
                                   const PictureView& picture);

} // namespace ropeline
