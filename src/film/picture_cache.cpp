#include "film/picture_cache.h"

#include <algorithm>
#include <cstdlib>

namespace ropeline {

void PictureCache::look_from(FrameIndex centre, int direction) {
    centre_ = number(centre);
    direction_ = direction;
}

PicturePtr PictureCache::find(FrameIndex frame) const {
    const auto found = pictures_.find(number(frame));
    return found == pictures_.end() ? nullptr : found->second;
}

std::int64_t PictureCache::distance(std::int64_t frame) const {
    constexpr std::int64_t behind_counts = 4; // a frame behind is worth keeping a quarter as far as one ahead
    const std::int64_t ahead = frame - centre_;
    const bool behind = direction_ != 0 && ahead * direction_ < 0;
    return std::abs(ahead) * (behind ? behind_counts : 1);
}

std::map<std::int64_t, PicturePtr>::const_iterator PictureCache::furthest() const {
    const auto last = std::prev(pictures_.end());
    return distance(pictures_.begin()->first) >= distance(last->first) ? pictures_.begin() : last;
}

void PictureCache::put(FrameIndex frame, PicturePtr picture) {
    const std::size_t added = picture->bytes();
    const auto [place, is_new] = pictures_.try_emplace(number(frame), picture);
    if (!is_new) {
        bytes_ -= place->second->bytes();
        place->second = std::move(picture);
    }
    bytes_ += added;
    largest_ = std::max(largest_, added);
    while (bytes_ > limit_ && pictures_.size() > 1) {
        const auto victim = furthest();
        bytes_ -= victim->second->bytes();
        pictures_.erase(victim);
    }
}

bool PictureCache::would_keep(FrameIndex frame) const {
    if (bytes_ + largest_ <= limit_ || pictures_.empty()) return true;
    return distance(number(frame)) < distance(furthest()->first);
}

std::int64_t PictureCache::capacity() const {
    return largest_ == 0 ? 0 : std::max<std::int64_t>(1, static_cast<std::int64_t>(limit_ / largest_));
}

} // namespace ropeline
