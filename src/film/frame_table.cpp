#include <algorithm>

#include "film/film.h"

namespace ropeline {

FrameTable::FrameTable(std::vector<Pts> pts, TimeBase time_base)
    : pts_(std::move(pts)), time_base_(time_base) {
    if (std::is_sorted(pts_.begin(), pts_.end())) return;
    // Time jumps back where recordings were joined: each later part is laid behind the one before it.
    ticks_.reserve(pts_.size());
    std::int64_t shift = 0, usual = 1;
    for (std::size_t i = 0; i < pts_.size(); ++i) {
        if (i > 0) {
            const std::int64_t step = pts_[i].ticks - pts_[i - 1].ticks;
            if (step > 0) usual = step;
            if (step < 0) shift += usual - step;
        }
        ticks_.push_back(pts_[i].ticks + shift);
    }
}

std::int64_t FrameTable::ticks_of(std::size_t frame) const {
    return ticks_.empty() ? pts_[frame].ticks : ticks_[frame];
}

Pts FrameTable::pts_of(FrameIndex frame) const {
    return pts_.at(static_cast<std::size_t>(number(frame)));
}

double FrameTable::seconds_of(FrameIndex frame) const {
    const auto i = static_cast<std::size_t>(number(frame));
    if (i >= pts_.size()) throw std::out_of_range("no such frame");
    return static_cast<double>(ticks_of(i)) * time_base_.numerator / time_base_.denominator;
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
