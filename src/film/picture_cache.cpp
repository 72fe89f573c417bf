#include "film/picture_cache.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

namespace ropeline {

void PictureCache::look_from(FrameIndex centre, int direction) {
    const std::lock_guard lock(mutex_);
    centre_ = number(centre);
    direction_ = direction;
}

PicturePtr PictureCache::find(FrameIndex frame) const {
    const std::lock_guard lock(mutex_);
    const auto found = kept_.find(number(frame));
    return found == kept_.end() ? nullptr : found->second.picture;
}

PackedPtr PictureCache::find_packed(FrameIndex frame) const {
    const std::lock_guard lock(mutex_);
    const auto found = kept_.find(number(frame));
    return found == kept_.end() ? nullptr : found->second.packed;
}

bool PictureCache::has(FrameIndex frame) const {
    const std::lock_guard lock(mutex_);
    return kept_.contains(number(frame));
}

std::int64_t PictureCache::distance(std::int64_t frame) const {
    constexpr std::int64_t behind_counts = 32; // what was just passed is worth little next to what comes
    const std::int64_t ahead = frame - centre_;
    const bool behind = direction_ != 0 && ahead * direction_ < 0;
    return std::abs(ahead) * (behind ? behind_counts : 1);
}

std::map<std::int64_t, PictureCache::Kept>::const_iterator PictureCache::furthest() const {
    const auto last = std::prev(kept_.end());
    return distance(kept_.begin()->first) >= distance(last->first) ? kept_.begin() : last;
}

void PictureCache::put(FrameIndex frame, PicturePtr picture) {
    put(number(frame), Kept{std::move(picture), nullptr});
}

void PictureCache::put(FrameIndex frame, PackedPtr packed) {
    put(number(frame), Kept{nullptr, std::move(packed)});
}

void PictureCache::put(std::int64_t frame, Kept kept) {
    std::vector<Kept> thrown_out; // declared before the lock, so freed after it: freeing takes time
    const std::lock_guard lock(mutex_);
    std::size_t& usual = kept.picture ? picture_bytes_ : packed_bytes_;
    usual = usual == 0 || kept.picture ? std::max(usual, kept.bytes())
                                       : usual - usual / 8 + kept.bytes() / 8; // packed: mean
    bytes_ += kept.bytes();
    Kept& place = kept_[frame];
    bytes_ -= place.bytes();
    thrown_out.push_back(std::exchange(place, std::move(kept)));
    while (bytes_ > room() && kept_.size() > 1) {
        const auto victim = furthest();
        bytes_ -= victim->second.bytes();
        thrown_out.push_back(victim->second);
        kept_.erase(victim);
    }
}

void PictureCache::let_go_before(FrameIndex frame) {
    std::vector<Kept> let_go; // as above
    const std::lock_guard lock(mutex_);
    const auto end = kept_.lower_bound(number(frame));
    for (auto one = kept_.begin(); one != end; one = kept_.erase(one)) {
        bytes_ -= one->second.bytes();
        let_go.push_back(std::move(one->second));
    }
}

bool PictureCache::would_keep(FrameIndex frame) const {
    const std::lock_guard lock(mutex_);
    if (bytes_ + picture_bytes_ <= room() || kept_.empty()) return true;
    return distance(number(frame)) < distance(furthest()->first);
}

// The decoder itself holds about a dozen pictures; where they are large they come out of the cache's share.
std::size_t PictureCache::room() const {
    constexpr std::size_t working_pictures = 13, working_memory = std::size_t{64} << 20;
    const std::size_t working = working_pictures * picture_bytes_;
    return limit_ - std::min(limit_ / 2, working > working_memory ? working - working_memory : 0);
}

std::size_t PictureCache::room_bytes() const {
    const std::lock_guard lock(mutex_);
    return room();
}

std::size_t PictureCache::picture_bytes() const {
    const std::lock_guard lock(mutex_);
    return picture_bytes_;
}

std::size_t PictureCache::packed_bytes() const {
    const std::lock_guard lock(mutex_);
    return packed_bytes_;
}

std::size_t PictureCache::bytes_between(FrameIndex first, FrameIndex last) const {
    const std::lock_guard lock(mutex_);
    std::size_t bytes = 0;
    for (auto one = kept_.lower_bound(number(first)); one != kept_.end() && one->first <= number(last);
         ++one) {
        bytes += one->second.bytes();
    }
    return bytes;
}

} // namespace ropeline
