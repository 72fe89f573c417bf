// What one pass over the packets tells about a film: which pictures are shown, in which order, and where
// decoding has to begin for each of them. Plain data, no libav.
#pragma once

#include <cstdint>
#include <vector>

#include "film/frame_table.h"

namespace ropeline {

constexpr std::int64_t no_time = INT64_MIN; ///< the container gives no time stamp

/// A time stamp of a file, or none where no film can have such a one: near the ends of the numbers sums and
/// differences of times would leave them. The limit is 36 years in nanoseconds.
constexpr std::int64_t believed(std::int64_t ticks) {
    constexpr std::int64_t furthest = std::int64_t{1} << 60;
    return -furthest <= ticks && ticks <= furthest ? ticks : no_time;
}

/// One packet of the picture stream, in the order the file holds them.
struct PacketNote {
    std::int64_t position = -1; ///< byte in the file; -1 where the container does not say
    std::int64_t pts = no_time, dts = no_time;
    std::int32_t size = 0;
    bool key = false;    ///< the container or the parser calls it a key frame
    bool entry = false;  ///< decoding may begin here
    bool hidden = false; ///< decoded but not shown: edit lists, second fields, frames that only help others
    bool disposable = false; ///< no other picture leans on it
    /// Of an entry by gradual refresh: pictures others lean on to decode before all is right.
    std::int32_t recovery_pictures = 0;
    std::int64_t order = no_time; ///< picture order within its sequence, where pts are missing
    bool new_sequence = false;    ///< `order` starts again here
};

struct FilmIndex {
    TimeBase time_base;
    std::vector<PacketNote> packets;
    std::vector<std::int32_t> packet_of_frame; ///< shown frame -> packet
    std::vector<std::int32_t> frame_of_packet; ///< packet -> shown frame, -1 when hidden
    std::vector<std::int32_t> entry_of_frame;  ///< shown frame -> packet where decoding begins
    std::vector<Pts> pts;                      ///< of each shown frame, as the stream has it
    int reorder = 0; ///< most pictures that are decoded before one that is shown earlier

    std::int64_t frames() const { return static_cast<std::int64_t>(packet_of_frame.size()); }
};

/// Fills everything but `packets` and `time_base`.
/// `frame_ticks`: the usual duration of a frame in ticks, used only where time stamps are missing.
void arrange(FilmIndex& index, std::int64_t frame_ticks);

/// The entry before this one, or 0.
std::int32_t entry_before(const FilmIndex& index, std::int32_t entry);

} // namespace ropeline
