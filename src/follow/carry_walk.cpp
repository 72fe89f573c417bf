#include "follow/carry_walk.h"

#include "follow/picture_work.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <future>

namespace ropeline {

namespace {

/// Pictures of frames in one direction, each decoded while the one before it is looked at.
class Coming {
public:
    Coming(FilmReader& film, std::int64_t first, std::int64_t last) : film_(film), last_(last) { ask(first); }

    std::int64_t frame() const { return frame_; }
    /// In      step: to the frame after it, negative for back; none is asked for beyond the last.
    /// Out     nothing where the film has no picture for the frame.
    std::optional<RgbPicture> take(std::int64_t step) {
        std::optional<RgbPicture> picture = coming_.get();
        const std::int64_t next = frame_ + step;
        if (step > 0 ? next <= last_ : next >= last_) ask(next);
        return picture;
    }

private:
    void ask(std::int64_t frame) {
        frame_ = frame;
        coming_ =
            std::async(std::launch::async, [this, at = FrameIndex{frame}]() -> std::optional<RgbPicture> {
                try {
                    return rgb_of(*film_.picture(at), film_.facts());
                } catch (const FilmError& error) {
                    if (error.fault != FilmFault::damaged) throw;
                    return std::nullopt;
                }
            });
    }

    FilmReader& film_;
    std::int64_t frame_ = 0, last_;
    std::future<std::optional<RgbPicture>> coming_; // last: its thread uses the others until it is waited for
};

/// Frames a second, as the film's own ends have them.
double rate_of(const FrameTable& frames) {
    const std::int64_t last = frames.count() - 1;
    const double lasts_s = frames.seconds_of(FrameIndex{last}) - frames.seconds_of(FrameIndex{0});
    return lasts_s > 0.0 ? static_cast<double>(last) / lasts_s : 25.0;
}

} // namespace

CarryWalk::CarryWalk(const KeyFit& key, std::int64_t next, int direction)
    : carrier_(key.fit, rule_book(key.rules)), key_frame_(key.frame), next_(next), direction_(direction) {}

void CarryWalk::go_to(FilmReader& film, std::int64_t last, Pace pace, const TellFrame& tell) {
    const auto beyond = [&] { return direction_ > 0 ? next_ > last : next_ < last; };
    if (beyond()) return;
    Coming coming(film, begun_ ? next_ : key_frame_, begun_ || next_ == key_frame_ ? last : key_frame_);
    if (!begun_) {
        const std::optional<RgbPicture> picture = coming.take(direction_);
        if (!picture) {
            throw FilmError(FilmFault::damaged,
                            fmt::format("frame {} cannot be decoded; fit another frame", key_frame_));
        }
        const CarriedFrame carried = carrier_.start(view_of(*picture));
        begun_ = true;
        if (next_ != key_frame_) return go_to(film, last, pace, tell);
        next_ += direction_;
        if (!tell(key_frame_, carried) || beyond()) return;
    }
    const double rate_hz = rate_of(film.frames());
    const auto a_second = std::llround(rate_hz), spared = std::max(1LL, std::llround(rate_hz / 6.0));
    while (!beyond()) {
        const std::int64_t frame = coming.frame();
        const std::int64_t step =
            direction_ * (pace == Pace::spare_where_lost && lost_ >= a_second ? spared : 1);
        const std::optional<RgbPicture> picture = coming.take(step);
        std::optional<CarriedFrame> carried;
        if (picture) carried = carrier_.next(view_of(*picture));
        lost_ = carried && carried->state != CarryState::lost ? 0 : lost_ + 1;
        while (next_ != frame + step && !beyond()) {
            std::optional<CarriedFrame> told = carried;
            if (next_ != frame && told) told->state = CarryState::lost;
            const bool on = tell(next_, told);
            next_ += direction_;
            if (!on) return;
        }
    }
}

void carry_to(FilmReader& film, const KeyFit& key, std::int64_t last, const TellFrame& tell) {
    CarryWalk(key, key.frame, key.frame <= last ? 1 : -1).go_to(film, last, Pace::every_frame, tell);
}

} // namespace ropeline
