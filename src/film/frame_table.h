// Frames in presentation order, counted from 0; their identity is the 64-bit pts in the stream's own time base,
// never seconds.
#pragma once

#include <cstdint>
#include <vector>

namespace ropeline {

enum class FrameIndex : std::int64_t {};
constexpr std::int64_t number(FrameIndex frame) {
    return static_cast<std::int64_t>(frame);
}

struct Pts {
    std::int64_t ticks = 0;
    friend constexpr auto operator<=>(const Pts&, const Pts&) = default;
};

struct TimeBase {
    int numerator = 1;
    int denominator = 1;
};

/// Frames in presentation order.
class FrameTable {
public:
    FrameTable() = default;
    FrameTable(std::vector<Pts> pts, TimeBase time_base);
    std::int64_t count() const { return static_cast<std::int64_t>(pts_.size()); }
    Pts pts_of(FrameIndex frame) const;
    /// In the stream's own time, not shifted; but where time jumps back (joined recordings) it goes on from
    /// frame to frame.
    double seconds_of(FrameIndex frame) const;
    TimeBase time_base() const { return time_base_; }
    FrameIndex clamp(std::int64_t wanted) const;
    /// The frame shown at a time: frame i is shown from its pts until the pts of frame i + 1; clamped at both
    /// ends.
    FrameIndex shown_at(double seconds) const;

private:
    double ticks_of(std::size_t frame) const;
    std::vector<Pts> pts_;
    std::vector<double> joined_; // ticks of the parts one behind the other; only where pts jump back
    TimeBase time_base_;
};

} // namespace ropeline
