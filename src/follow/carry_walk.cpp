#include "follow/carry_walk.h"

#include "film/rgb.h"

#include <fmt/core.h>

#include <future>

namespace ropeline {

namespace {

/// Pictures of consecutive frames in either direction.
class Walk {
public:
    Walk(FilmReader& film, std::int64_t first, std::int64_t last) : film_(film), next_(first), last_(last) {
        ask();
    }

    /// Nothing where the film has no picture for the frame.
    std::optional<RgbPicture> take() {
        std::optional<RgbPicture> picture = coming_.get();
        ask();
        return picture;
    }

private:
    void ask() {
        const std::int64_t step = next_ <= last_ ? 1 : -1;
        if (done_) return;
        const FrameIndex frame{next_};
        done_ = next_ == last_;
        next_ += step;
        coming_ = std::async(std::launch::async, [this, frame]() -> std::optional<RgbPicture> {
            try {
                return rgb_of(*film_.picture(frame), film_.facts());
            } catch (const FilmError& error) {
                if (error.fault != FilmFault::damaged) throw;
                return std::nullopt;
            }
        });
    }

    FilmReader& film_;
    std::int64_t next_, last_;
    bool done_ = false;
    std::future<std::optional<RgbPicture>> coming_; // last: its thread uses the others until it is waited for
};

PictureView view_of(const RgbPicture& picture) {
    return {picture.bytes.data(), picture.width_px, picture.height_px, 3 * picture.width_px};
}

} // namespace

void carry_to(FilmReader& film, const KeyFit& key, std::int64_t last,
              const std::function<bool(std::int64_t, const std::optional<CarriedFrame>&)>& tell) {
    Carrier carrier(key.fit, rule_book(key.rules));
    Walk walk(film, key.frame, last);
    const std::int64_t step = key.frame <= last ? 1 : -1;
    for (std::int64_t frame = key.frame;; frame += step) {
        const std::optional<RgbPicture> picture = walk.take();
        if (frame == key.frame && !picture) {
            throw FilmError(FilmFault::damaged,
                            fmt::format("frame {} cannot be decoded; fit another frame", frame));
        }
        std::optional<CarriedFrame> carried;
        if (picture)
            carried = frame == key.frame ? carrier.start(view_of(*picture)) : carrier.next(view_of(*picture));
        if (!tell(frame, carried) || frame == last) return;
    }
}

} // namespace ropeline
