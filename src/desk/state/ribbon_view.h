// The stretch of the film that the ribbon shows: all of it, or closer down to single frames. Pure.
#pragma once

#include "chances/marks.h"
#include "desk/state/layout.h"
#include "desk/state/log_state.h"
#include "film/frame_table.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace ropeline {

/// Film times at the left and right end of the ribbon, seconds.
struct RibbonView {
    double first_s = 0.0, last_s = 0.0;

    float x_of(double film_s, const Rect& strip) const; ///< may lie outside the strip
    double film_s_at(float x, const Rect& strip) const; ///< clamped to the strip
    double seconds_a_pixel(const Rect& strip) const;
};

RibbonView whole_film(const FrameTable& frames);

/// Closer by `factor` (below 1: wider) with the time under `at_s` kept in its place; never wider than the film,
/// never closer than about a dozen frames.
RibbonView ribbon_closer(const RibbonView& view, double factor, double at_s, const FrameTable& frames);

/// Moved so that the playhead is on it: when it runs off one end, it starts again a tenth from the other.
RibbonView ribbon_following(const RibbonView& view, double playhead_s, const FrameTable& frames);

/// Seconds between two labels that stand at least `room_px` apart: 1, 2, 5, 10 ... or, close up, frames.
double ribbon_tick_s(const RibbonView& view, const Rect& strip, float room_px);

/// From x to x on the strip, at least a pixel wide.
struct RibbonSpan {
    float from = 0.0F, to = 0.0F;
};
/// The stretches that lie on the strip; those that would touch are one.
std::vector<RibbonSpan> spans_on(const RibbonView& view, const Rect& strip,
                                 std::span<const Stretch> stretches);
/// Where single moments lie on it, none nearer to the one before than `apart_px`: of a whole game's cuts a hatching
/// would remain. Empty when more than half would be left out.
std::vector<float> ticks_on(const RibbonView& view, const Rect& strip, std::span<const double> moments_s,
                            float apart_px);
/// The shot of the open film whose sign lies nearest to `x`, within `reach_px` of it, among LogState::shots.
std::optional<std::size_t> sign_at(const LogState& log, const FrameTable& frames, const RibbonView& view,
                                   const Rect& strip, float x, float reach_px);
/// What lies there, in a few words: "likely chance, net in view"; empty for nothing.
std::string words_at(const FilmMarks& marks, double film_s, double within_s);

} // namespace ropeline
