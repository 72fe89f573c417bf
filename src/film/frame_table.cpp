#include "film/frame_table.h"

#include <algorithm>
#include <stdexcept>

namespace ropeline {

FrameTable::FrameTable(std::vector<Pts> pts, TimeBase time_base)
    : pts_(std::move(pts)), time_base_(time_base) {
    if (std::is_sorted(pts_.begin(), pts_.end())) return;
    // Time jumps back where recordings were joined: each later part is laid behind the one before it.
    joined_.reserve(pts_.size());
    double shift = 0.0, usual = 1.0;
    for (std::size_t i = 0; i < pts_.size(); ++i) {
        const auto ticks = static_cast<double>(pts_[i].ticks);
        const double step = i > 0 ? ticks - static_cast<double>(pts_[i - 1].ticks) : 0.0;
        if (step > 0.0) usual = step;
        if (step < 0.0) shift += usual - step;
        joined_.push_back(ticks + shift);
    }
}

double FrameTable::ticks_of(std::size_t frame) const {
    return joined_.empty() ? static_cast<double>(pts_[frame].ticks) : joined_[frame];
}

Pts FrameTable::pts_of(FrameIndex frame) const {
    return pts_.at(static_cast<std::size_t>(number(frame)));
}

double FrameTable::seconds_of(FrameIndex frame) const {
    const auto i = static_cast<std::size_t>(number(frame));
    if (i >= pts_.size()) throw std::out_of_range("no such frame");
    return ticks_of(i) * time_base_.numerator / time_base_.denominator;
}

FrameIndex FrameTable::clamp(std::int64_t wanted) const {
    return FrameIndex{std::clamp<std::int64_t>(wanted, 0, std::max<std::int64_t>(0, count() - 1))};
}

FrameIndex FrameTable::shown_at(double seconds) const {
    std::int64_t low = 0, high = count(); // the first frame later than `seconds` lies in low..high
    while (low < high) {
        const std::int64_t middle = low + (high - low) / 2;
        if (seconds_of(FrameIndex{middle}) <= seconds) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return clamp(low - 1);
}

} // namespace ropeline
