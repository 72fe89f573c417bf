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

/// Heights of text in a window of this height, in pixels. `wanted_px` is the coach's own size of body text; it is kept
/// between a sixtieth of the window, which reads from two metres, and a fortieth, which every page still has room for.
/// In capitals a fact is 1/45 of the window's height or more, a headline 1/28.
struct TypeSizes {
    float body = 16.0F, fact = 21.0F, hero = 34.0F;
    friend bool operator==(const TypeSizes&, const TypeSizes&) = default;
};
TypeSizes type_sizes(float window_height, float wanted_px);
/// Capitals and figures of Inter, as a share of the height of a line of it.
/// Source  its font file: units an em 2816, ascender 2728, descender -680, capitals 2048.
constexpr float capital_share = 2048.0F / (2728.0F + 680.0F);

/// What the Log side is about in this turn; each has its own places.
enum class LogShape {
    film,    ///< no shot is open: the film is the window, the list a narrow column beside it
    marking, ///< a shot is open and something of it is still to be marked: the picture stays where it was
    moment,  ///< goalie and puck are placed: crease and verdict are the heroes
    fit,     ///< the rink is being fitted
};

/// The Log side. `unit` is the height of body text in pixels: everything grows with it. A rectangle without a size is
/// not shown in that shape.
struct LogLayout {
    Rect header, film, ribbon, keys;
    Rect side;     ///< beside the film: the list; while marking, what to click and the open question
    Rect headline; ///< of the moment, over film and plan
    Rect plan;     ///< the crease from above, or what is unfolded in its place
    Rect question; ///< under them, the one that is open
    Rect fit_plan, fit_card; ///< beside the film while the rink is being fitted
};
/// `other_films` of the game get a thin line each under the open one's ribbon.
LogLayout log_layout(float width, float height, float unit, LogShape shape, int other_films = 0);

/// A decision under study: the film with what is said of it below, the card over the plan in a column beside. Without
/// film the plan stands in its place.
struct StudyLayout {
    Rect film, decision, ribbon, card, plan, keys;
};
StudyLayout study_layout(float width, float height, float unit, bool answered, bool on_film = true);

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

/// Where a loupe of that size lies beside the mouse: inside the panel, and beside the net rather than over it.
Rect loupe_place(const Rect& panel, ScreenPoint mouse, float size, float away,
                 const std::optional<Rect>& net);

/// The same view magnified by `factor` so that the picture point under `at` stays under it. Zoom stays within
/// 1 and 16.
FilmView zoomed(FilmView view, double factor, ScreenPoint at);

/// Where the net lies on the plan. Up-ice points away from it.
enum class NetAt { bottom, left, top, right };

/// The near end of the rink from above. With the net at the bottom right on the plan is the goalie's right; else the
/// whole is turned by quarters, never mirrored.
struct PlanView {
    Rect panel;
    double left_m = 13.6, right_m = 13.6; ///< shown to either side of the net's middle, as the net sees it
    double behind_m = 4.4;                ///< shown behind the goal line
    double up_ice_m = 20.4;               ///< shown in front of it
    NetAt net = NetAt::bottom;

    double scale() const; ///< window pixels a metre
    ScreenPoint to_screen(IcePoint at) const;
    IcePoint to_ice(ScreenPoint at) const;
};

/// The part of it that a play is in: the net, the crease and every place of the play, as large as the panel allows, in
/// steps of half a metre so that it stands still while a mark is dragged a little. Without places the whole end.
PlanView plan_of_play(const Rect& panel, std::span<const IcePoint> places, NetAt net = NetAt::bottom);

/// The plan lies as the film lies: right in the picture, at this place of it, is right on the plan.
NetAt net_as_filmed(IcePoint to_the_right_in_picture);

} // namespace ropeline
