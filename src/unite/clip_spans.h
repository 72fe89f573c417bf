// Which stretches of a film are one goalie's. Pure.
#pragma once

#include <cstdint>
#include <vector>

namespace ropeline {

/// Frames of a film, both ends included.
struct FrameSpan {
    std::int64_t first = 0, last = 0;

    bool operator==(const FrameSpan&) const = default;
    bool has(std::int64_t frame) const { return frame >= first && frame <= last; }
};

/// A play on a film: the frames from its first mark to its last, and those with its run-up and what comes after.
struct PlayFrames {
    FrameSpan marked, wide;
};

/// Stretches that hold all that is marked of these plays, as wide as they may be, in the order of the film; plays whose
/// stretches meet share one. Run-up and end give way before the plays of others: they keep `apart` frames from what is marked of
/// those.
std::vector<FrameSpan> clip_spans(std::vector<PlayFrames> own, const std::vector<FrameSpan>& of_others,
                                  std::int64_t apart);

} // namespace ropeline
