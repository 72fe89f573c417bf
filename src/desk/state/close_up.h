// Moving in on a play: which part of the picture holds net, goalie and puck, how the view lies that shows it, and the
// way there. Pure.
#pragma once

#include "desk/state/layout.h"
#include "desk/state/rink_here.h"

#include <optional>

namespace ropeline {

/// A part of the picture, in its pixels.
struct PictureBox {
    double left_px = 0.0, top_px = 0.0, right_px = 0.0, bottom_px = 0.0;
};

/// Net, goalie in his height, and puck.
/// In      `rink`: as it lies in the frame that is seen, so that the box goes with a camera that turns; without one the
///         marks are taken where they were clicked
/// Out     none when neither goalie nor puck has a place in the picture
std::optional<PictureBox> box_of_play(const Moment& moment, const FitHere& rink);

/// The view of that panel with the box as large as it goes with some air about it; nothing beyond the picture's edges is
/// shown that the picture could fill, and it is never magnified more than five times.
FilmView close_up(const FilmView& whole, const PictureBox& box);

/// On the way: `share` 0 is `from`, 1 is `to`; it begins fast and arrives slowly. Both lie in one panel.
FilmView on_the_way(const FilmView& from, const FilmView& to, double share);

/// The same part of the picture in another panel: nothing jumps when the panel does.
FilmView in_panel(const FilmView& view, const Rect& panel);

} // namespace ropeline
