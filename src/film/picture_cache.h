// Pictures kept within a number of bytes; when room is short, those furthest from where the coach is and
// heading go first.
#pragma once

#include <cstddef>
#include <map>

#include "film/film.h"

namespace ropeline {

class PictureCache {
public:
    explicit PictureCache(std::size_t limit_bytes) : limit_(limit_bytes) {}

    /// Where the coach is, and the direction of travel: -1, 0, +1.
    void look_from(FrameIndex centre, int direction);
    PicturePtr find(FrameIndex frame) const;
    bool has(FrameIndex frame) const { return pictures_.contains(number(frame)); }
    void put(FrameIndex frame, PicturePtr picture);
    /// Whether a picture of this frame would stay, given that it is as large as the others.
    bool would_keep(FrameIndex frame) const;
    /// How many pictures fit, as large as those seen so far; 0 while none was seen.
    std::int64_t capacity() const;
    std::size_t bytes() const { return bytes_; }

private:
    std::int64_t distance(std::int64_t frame) const;
    std::map<std::int64_t, PicturePtr>::const_iterator furthest() const;
    std::size_t limit_, bytes_ = 0, largest_ = 0;
    std::int64_t centre_ = 0;
    int direction_ = 0;
    std::map<std::int64_t, PicturePtr> pictures_;
};

} // namespace ropeline
