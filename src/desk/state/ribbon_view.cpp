#include "desk/state/ribbon_view.h"

#include <algorithm>

namespace ropeline {

namespace {

constexpr double closest_frames = 12.0;

double length_of(const RibbonView& view) {
    return std::max(view.last_s - view.first_s, 1e-6);
}

/// A stretch of this length that begins near `first_s` and lies inside the film.
RibbonView within(double first_s, double length_s, const RibbonView& whole) {
    length_s = std::min(length_s, length_of(whole));
    first_s = std::clamp(first_s, whole.first_s, std::max(whole.first_s, whole.last_s - length_s));
    return {first_s, first_s + length_s};
}

} // namespace

float RibbonView::x_of(double film_s, const Rect& strip) const {
    return strip.x + strip.width * static_cast<float>((film_s - first_s) / length_of(*this));
}

double RibbonView::film_s_at(float x, const Rect& strip) const {
    const double share = std::clamp(static_cast<double>(x - strip.x) / std::max(1.0F, strip.width), 0.0, 1.0);
    return first_s + share * length_of(*this);
}

double RibbonView::seconds_a_pixel(const Rect& strip) const {
    return length_of(*this) / std::max(1.0F, strip.width);
}

RibbonView whole_film(const FrameTable& frames) {
    if (frames.count() == 0) return {};
    return {frames.seconds_of(FrameIndex{0}), frames.seconds_of(FrameIndex{frames.count() - 1})};
}

RibbonView ribbon_closer(const RibbonView& view, double factor, double at_s, const FrameTable& frames) {
    const RibbonView whole = whole_film(frames);
    const double one_frame_s =
        length_of(whole) / static_cast<double>(std::max<std::int64_t>(1, frames.count() - 1));
    const double length = std::clamp(
        length_of(view) / factor, std::min(closest_frames * one_frame_s, length_of(whole)), length_of(whole));
    const double share = (at_s - view.first_s) / length_of(view);
    return within(at_s - share * length, length, whole);
}

RibbonView ribbon_following(const RibbonView& view, double playhead_s, const FrameTable& frames) {
    if (playhead_s >= view.first_s && playhead_s <= view.last_s) return view;
    const double length = length_of(view);
    const double share = playhead_s > view.last_s ? 0.1 : 0.9;
    return within(playhead_s - share * length, length, whole_film(frames));
}

double ribbon_tick_s(const RibbonView& view, const Rect& strip, float room_px) {
    for (const double step :
         {0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1200.0}) {
        if (step >= view.seconds_a_pixel(strip) * room_px) return step;
    }
    return 3600.0;
}

} // namespace ropeline
