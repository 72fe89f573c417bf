// Where everything on the desk is, as plain rectangles in window pixels. Pure: panels draw where this says,
// and a test of the real window clicks where this says.
#pragma once

#include "camera/image_point.h"
#include "rink/ice_point.h"

#include <span>

namespace ropeline {

struct ScreenPoint {
    float x = 0.0F;
    float y = 0.0F;
};

struct Rect {
    float x = 0.0F, y = 0.0F, width = 0.0F, height = 0.0F;
    bool holds(ScreenPoint at) const {
        return at.x >= x && at.x < x + width && at.y >= y && at.y < y + height;
    }
};

/// The Log side. `unit` is the height of body text in pixels: everything grows with it.
/// `other_films` of the game get a thin line each under the open one's ribbon.
struct LogLayout {
    Rect header, film, decision, ribbon, keys, card, plan, reading, list;
    Rect fit_plan, fit_card; ///< what stands in the right column while the rink is being fitted
};
/// `browsing`: no shot is being worked on. Where the window is low the list then takes the room of the plan
/// and of most of the card; in a higher one nothing moves.
LogLayout log_layout(float width, float height, float unit, int other_films = 0, bool browsing = false);
/// The thin line of one of the other films, counted from 0; the room that holds more of them is shared out.
Rect other_film_line(const Rect& ribbon, float unit, int other_films, int index);

/// The part of the desk under the header, for the other sides.
Rect page_area(float width, float height, float unit);

/// How the film's picture lies in its panel: whole at zoom 1, else magnified about `centre`.
struct FilmView {
    Rect panel;
    ImageSize shown;     ///< size of the picture with square pixels
    double zoom = 1.0;   ///< 1 = the whole picture fits
    ImagePoint centre{}; ///< picture point in the middle of the panel when zoom > 1

    double scale() const; ///< window pixels a picture pixel
    ScreenPoint to_screen(ImagePoint at) const;
    ImagePoint to_image(ScreenPoint at) const;
};

/// The same view magnified by `factor` so that the picture point under `at` stays under it. Zoom stays within
/// 1 and 16.
FilmView zoomed(FilmView view, double factor, ScreenPoint at);

/// The near end of the rink from above: net at the bottom, up-ice upwards, so right on the plan is the
/// goalie's right.
struct PlanView {
    Rect panel;
    double half_width_m = 13.6;
    double behind_m = 4.4;  ///< shown behind the goal line
    double up_ice_m = 20.4; ///< shown in front of it

    double scale() const; ///< window pixels a metre
    ScreenPoint to_screen(IcePoint at) const;
    IcePoint to_ice(ScreenPoint at) const;
};

/// The part of it that a play is in: the net and every place of the play, as large as the panel allows, in steps of
/// two metres so that it stands still while a mark is dragged a little. Without places the whole end.
PlanView plan_of_play(const Rect& panel, std::span<const IcePoint> places);

} // namespace ropeline
