// Going backward through a sequence that has to be decoded forward: which frames of it to keep in one pass.
// Pure.
#pragma once

#include <cstddef>
#include <cstdint>

namespace ropeline {

struct WindowNeeds {
    std::int64_t frames = 0;       ///< from the first of the sequence to the one wanted
    std::size_t room_bytes = 0;    ///< memory there is
    std::size_t picture_bytes = 0; ///< of one picture as it comes
    std::size_t packed_bytes = 0;  ///< of one picture packed; 0 where packing is not to be had
    double skipped_cost = 1.0;     ///< of passing over a frame that is not kept, with decoding one as 1
    double packing_cost = 0.5;     ///< of packing and unpacking one frame, with decoding one as 1
};

struct Window {
    std::int64_t kept = 0;  ///< frames to keep, counted back from the one wanted
    std::int64_t as_is = 0; ///< of these, the last so many are kept as they come, the others packed
};

/// Cost of bringing all frames of the sequence backward with windows of so many frames, with decoding one
/// frame as 1.
double cost_of_passes(std::int64_t frames, std::int64_t window, double skipped_cost, double packing_cost);

/// The cheaper of keeping few pictures as they come and keeping more of them packed.
Window window_for(const WindowNeeds& needs);

} // namespace ropeline
