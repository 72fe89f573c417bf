#include "desk/state/ribbon_view.h"

#include <algorithm>
#include <cmath>

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

std::vector<RibbonSpan> spans_on(const RibbonView& view, const Rect& strip,
                                 std::span<const Stretch> stretches) {
    std::vector<RibbonSpan> spans;
    const float right = strip.x + strip.width;
    for (const Stretch& stretch : stretches) {
        if (stretch.last_s < view.first_s || stretch.first_s > view.last_s) continue;
        const float from = std::max(strip.x, view.x_of(stretch.first_s, strip));
        const float to = std::min(right, std::max(view.x_of(stretch.last_s, strip), from + 1.0F));
        if (!spans.empty() && from < spans.back().to + 1.0F) // nothing could be seen between them
            spans.back().to = std::max(spans.back().to, to);
        else
            spans.push_back({from, to});
    }
    return spans;
}

std::vector<float> ticks_on(const RibbonView& view, const Rect& strip, std::span<const double> moments_s,
                            float apart_px) {
    std::vector<float> ticks;
    std::size_t on_strip = 0;
    for (const double at_s : moments_s) {
        if (at_s < view.first_s || at_s > view.last_s) continue;
        ++on_strip;
        const float x = view.x_of(at_s, strip);
        if (ticks.empty() || x - ticks.back() >= apart_px) ticks.push_back(x);
    }
    if (2 * ticks.size() < on_strip) ticks.clear();
    return ticks;
}

std::string words_at(const FilmMarks& marks, double film_s, double within_s) {
    std::string words;
    const auto add = [&](bool there, const char* what) {
        if (there) words += (words.empty() ? "" : ", ") + std::string(what);
    };
    const auto in_one = [&](const std::vector<Stretch>& stretches) {
        return std::ranges::any_of(stretches, [&](const Stretch& one) {
            return one.first_s - within_s <= film_s && film_s <= one.last_s + within_s;
        });
    };
    const auto near = [&](double at_s) { return std::abs(at_s - film_s) <= within_s; };
    add(std::ranges::any_of(marks.chances, near, &LikelyChance::at_s), "likely chance");
    add(in_one(marks.net_in_view), "net in view");
    add(in_one(marks.whistles), "whistle");
    add(in_one(marks.loud), "loud");
    add(in_one(marks.still), "standing still");
    add(std::ranges::any_of(marks.cuts_s, near), "cut");
    return words;
}

double ribbon_tick_s(const RibbonView& view, const Rect& strip, float room_px) {
    for (const double step :
         {0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1200.0}) {
        if (step >= view.seconds_a_pixel(strip) * room_px) return step;
    }
    return 3600.0;
}

std::optional<std::size_t> sign_at(const LogState& log, const FrameTable& frames, const RibbonView& view,
                                   const Rect& strip, float x, float reach_px) {
    std::optional<std::size_t> nearest;
    for (std::size_t index = 0; index < log.shots.size(); ++index) {
        const Shot& shot = log.shots[index].shot;
        if (shot.film_id.empty() || shot.film_id != open_film(log)) continue;
        const float away = std::abs(view.x_of(frames.seconds_of(frames.clamp(shot.frame)), strip) - x);
        if (away > reach_px) continue;
        reach_px = away;
        nearest = index;
    }
    return nearest;
}

} // namespace ropeline
