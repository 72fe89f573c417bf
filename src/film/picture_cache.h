// Pictures kept within a number of bytes, some of them packed; when room is short, those furthest from where
// the coach is and heading go first. Thread-safe.
#pragma once

#include <cstddef>
#include <map>
#include <mutex>

#include "film/packed_picture.h"

namespace ropeline {

class PictureCache {
public:
    explicit PictureCache(std::size_t limit_bytes) : limit_(limit_bytes) {}

    /// Where the coach is, and the direction of travel: -1, 0, +1.
    void look_from(FrameIndex centre, int direction);
    PicturePtr find(FrameIndex frame) const;
    PackedPtr find_packed(FrameIndex frame) const;
    bool has(FrameIndex frame) const; ///< either way
    void put(FrameIndex frame, PicturePtr picture);
    void put(FrameIndex frame, PackedPtr packed);
    void let_go_before(FrameIndex frame);
    /// Whether a picture of this frame would stay, given that it is as large as the others.
    bool would_keep(FrameIndex frame) const;

    std::size_t room_bytes() const; ///< what pictures may take of the limit
    /// Memory of one picture, as it comes and packed; 0 while none was seen.
    std::size_t picture_bytes() const;
    std::size_t packed_bytes() const;
    /// Memory held by frames `first` to `last`.
    std::size_t bytes_between(FrameIndex first, FrameIndex last) const;

private:
    struct Kept {
        PicturePtr picture;
        PackedPtr packed;
        std::size_t bytes() const { return picture ? picture->bytes() : packed ? packed->packed.size() : 0; }
    };
    std::size_t room() const;
    std::int64_t distance(std::int64_t frame) const;
    std::map<std::int64_t, Kept>::const_iterator furthest() const;
    void put(std::int64_t frame, Kept kept);

    mutable std::mutex mutex_;
    const std::size_t limit_;
    std::size_t bytes_ = 0, picture_bytes_ = 0, packed_bytes_ = 0;
    std::int64_t centre_ = 0;
    int direction_ = 0;
    std::map<std::int64_t, Kept> kept_;
};

} // namespace ropeline
