#include "desk/state/loop_span.h"

#include <algorithm>

namespace ropeline {

FilmSpan loop_span(const LogState& state, const FrameTable& frames, FrameIndex now) {
    constexpr double before_s = 2.0;
    constexpr double after_s = 1.5;
    std::int64_t first = 0;
    std::int64_t last = 0;
    bool any = false;
    if (const ShotEntry* entry = chosen_shot(state)) {
        for (const Moment& moment : entry->moments) {
            if (moment.film_id != open_film(state)) continue;
            first = any ? std::min(first, moment.frame) : moment.frame;
            last = any ? std::max(last, moment.frame) : moment.frame;
            any = true;
        }
    }
    if (!any) first = last = number(now);
    return {frames.seconds_of(frames.clamp(first)) - before_s,
            frames.seconds_of(frames.clamp(last)) + after_s};
}

} // namespace ropeline
