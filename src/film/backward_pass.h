// Going backward through a sequence that has to be decoded forward: which frames of it to keep in one pass.
// Pure.
#pragma once

#include <cstddef>
#include <cstdint>

namespace ropeline {

constexpr std::int64_t ready_pictures = 4; ///< next in line and wanted at once, so not packed

struct BackwardNeeds {
    std::int64_t frames = 0;       ///< from the first of the sequence to the one wanted
    std::size_t room_bytes = 0;    ///< memory there is
    std::size_t picture_bytes = 0; ///< of one picture as it comes
    std::size_t packed_bytes = 0;  ///< of one picture packed; 0 where packing is not to be had
    double skipped_cost = 1.0;     ///< of passing over a frame that is not kept, with decoding one as 1
    double packing_cost = 0.3;     ///< of packing and unpacking one, likewise; low, so that it is tried
};

struct BackwardPass {
    std::int64_t kept = 0;  ///< frames to keep, counted back from the one wanted
    std::int64_t as_is = 0; ///< of these, the last so many are kept as they come, the others packed
};

/// Cost of bringing all frames of the sequence backward with windows of so many frames, of which no more are
/// packed than it takes to fit them in; with decoding one frame as 1.
double cost_of_passes(const BackwardNeeds& needs, std::int64_t kept);

/// The cheapest: a picture more in the pass is one less to pass over, but some have to be packed for it.
BackwardPass backward_pass_for(const BackwardNeeds& needs);

} // namespace ropeline
