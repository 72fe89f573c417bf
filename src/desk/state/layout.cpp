#include "desk/state/layout.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

float header_height(float unit) {
    return 2.5F * unit;
}

} // namespace

Rect page_area(float width, float height, float unit) {
    const float top = header_height(unit);
    return {0.0F, top, width, std::max(0.0F, height - top)};
}

namespace {

constexpr int full_lines = 3; ///< of other films; more than that share their room

float other_films_height(float unit, int other_films) {
    return 1.15F * unit * static_cast<float>(std::min(other_films, full_lines));
}

} // namespace

Rect other_film_line(const Rect& ribbon, float unit, int other_films, int index) {
    const float room = other_films_height(unit, other_films);
    const float each = room / static_cast<float>(std::max(1, other_films));
    return {ribbon.x, ribbon.y + ribbon.height - room - 0.2F * unit + each * static_cast<float>(index),
            ribbon.width, each};
}

TypeSizes type_sizes(float window_height, float wanted_px) {
    constexpr float smallest_px = 11.0F;
    TypeSizes sizes;
    const float least = std::ceil(window_height / 60.0F);
    const float most = std::max(smallest_px, std::floor(window_height / 40.0F));
    sizes.body = std::max(smallest_px, std::clamp(wanted_px, std::min(least, most), most));
    // Steps of two pixels: each size of type is drawn anew when the window changes its height.
    const auto in_steps = [](float px) { return 2.0F * std::ceil(0.5F * px); };
    sizes.fact = std::max(1.3F * sizes.body, in_steps(window_height / (45.0F * capital_share)));
    sizes.hero = std::max(2.1F * sizes.body, in_steps(window_height / (28.0F * capital_share)));
    return sizes;
}

namespace {

/// The film as wide as its height allows; what is left beside it, and never less than a list needs, is the side.
void place_film_and_side(LogLayout& at, const Rect& body, float unit) {
    const float gap = 0.5F * unit;
    const float least = std::min(13.5F * unit, 0.4F * body.width);
    const float side = std::clamp(body.width - gap - body.height * 16.0F / 9.0F, least,
                                  std::max(least, std::min(26.0F * unit, 0.34F * body.width)));
    at.film = {body.x, body.y, std::max(1.0F, body.width - side - gap), body.height};
    at.side = {at.film.width + gap, body.y, side, body.height};
}

/// Headline over film and plan, the question under them.
void place_moment(LogLayout& at, const Rect& body, float unit, const TypeSizes& type) {
    const float gap = 0.5F * unit;
    const float headline = std::min(type.hero + type.fact + 1.1F * unit, 0.4F * body.height);
    const float question = std::min(4.8F * unit, 0.3F * body.height);
    const float between = std::max(1.0F, body.height - headline - question);
    const float film = std::round(0.55F * body.width);
    at.headline = {body.x, body.y, body.width, headline};
    at.film = {body.x, body.y + headline, film, between};
    at.plan = {film + gap, at.film.y, body.width - film - gap, between};
    at.question = {body.x, at.film.y + between, body.width, question};
}

void place_fit(LogLayout& at, const Rect& body, float unit) {
    const float gap = 0.5F * unit;
    const float column =
        std::clamp(0.30F * body.width, std::min(24.0F * unit, 0.45F * body.width), 34.0F * unit);
    const float left = std::max(1.0F, body.width - column - gap);
    const float plan = std::min(column * 24.8F / 27.2F, 0.48F * body.height);
    at.film = {body.x, body.y, left, body.height};
    at.fit_plan = {left + gap, body.y, column, plan};
    at.fit_card = {left + gap, body.y + plan + gap, column, std::max(1.0F, body.height - plan - gap)};
}

} // namespace

LogLayout log_layout(float width, float height, float unit, LogShape shape, int other_films) {
    const float top = header_height(unit);
    const float keys = 2.0F * unit;
    const float ribbon = 4.85F * unit + other_films_height(unit, other_films);
    LogLayout at;
    at.header = {0.0F, 0.0F, width, top};
    at.keys = {0.0F, height - keys, width, keys};
    at.ribbon = {0.0F, at.keys.y - ribbon, width, ribbon};
    const Rect body{0.0F, top, width, std::max(1.0F, at.ribbon.y - top)};
    switch (shape) {
    case LogShape::film:
    case LogShape::marking:
        place_film_and_side(at, body, unit);
        break;
    case LogShape::moment:
        place_moment(at, body, unit, type_sizes(height, unit));
        break;
    case LogShape::fit:
        place_fit(at, body, unit);
        break;
    }
    return at;
}

StudyLayout study_layout(float width, float height, float unit, bool answered, bool on_film) {
    const float top = header_height(unit);
    const float gap = 0.5F * unit;
    const float column = std::clamp(0.36F * width, std::min(24.0F * unit, 0.45F * width), 44.0F * unit);
    const float left = std::max(1.0F, width - column - gap);
    StudyLayout at;
    at.keys = {0.0F, height - 2.0F * unit, width, 2.0F * unit};
    const float body = std::max(1.0F, at.keys.y - top);
    if (!on_film) {
        const float said = answered ? 10.0F * unit : 0.0F;
        at.plan = {0.0F, top, left, std::max(1.0F, body - said)};
        at.decision = {0.0F, top + at.plan.height, left, said};
        at.card = {left + gap, top, column, body};
        return at;
    }
    const float ribbon = 4.85F * unit;
    at.ribbon = {0.0F, at.keys.y - ribbon, left, ribbon};
    const float decision =
        answered ? std::clamp(body - ribbon - left * 9.0F / 16.0F, 9.0F * unit, 13.0F * unit) : 0.0F;
    at.film = {0.0F, top, left, std::max(1.0F, body - ribbon - decision)};
    at.decision = {0.0F, top + at.film.height, left, decision};
    const float card = std::min(answered ? 21.0F * unit : 10.0F * unit, 0.5F * body);
    at.card = {left + gap, top, column, card};
    at.plan = {left + gap, top + card + gap, column, std::max(1.0F, body - card - gap)};
    return at;
}

double FilmView::scale() const {
    if (shown.width_px <= 0 || shown.height_px <= 0) return 1.0;
    const double whole = std::min(static_cast<double>(panel.width) / shown.width_px,
                                  static_cast<double>(panel.height) / shown.height_px);
    return whole * zoom;
}

namespace {

ImagePoint middle_of(const FilmView& view) {
    if (view.zoom > 1.0) return view.centre;
    return {view.shown.width_px * 0.5, view.shown.height_px * 0.5};
}

} // namespace

ScreenPoint FilmView::to_screen(ImagePoint at) const {
    const ImagePoint middle = middle_of(*this);
    const double s = scale();
    return {static_cast<float>(panel.x + panel.width * 0.5 + (at.x_px - middle.x_px) * s),
            static_cast<float>(panel.y + panel.height * 0.5 + (at.y_px - middle.y_px) * s)};
}

ImagePoint FilmView::to_image(ScreenPoint at) const {
    const ImagePoint middle = middle_of(*this);
    const double s = scale();
    return {middle.x_px + (at.x - (panel.x + panel.width * 0.5)) / s,
            middle.y_px + (at.y - (panel.y + panel.height * 0.5)) / s};
}

Rect loupe_place(const Rect& panel, ScreenPoint mouse, float size, float away,
                 const std::optional<Rect>& net) {
    const auto hidden = [&](const Rect& at) {
        if (!net) return 0.0F;
        const float wide = std::min(at.x + at.width, net->x + net->width) - std::max(at.x, net->x);
        const float high = std::min(at.y + at.height, net->y + net->height) - std::max(at.y, net->y);
        return std::max(0.0F, wide) * std::max(0.0F, high);
    };
    const auto outside = [&](const Rect& at) {
        return at.x < panel.x || at.y < panel.y || at.x + size > panel.x + panel.width ||
               at.y + size > panel.y + panel.height;
    };
    std::optional<Rect> best;
    for (const float y : {mouse.y - size - away, mouse.y + away}) {
        for (const float x : {mouse.x + away, mouse.x - size - away}) {
            const Rect at{x, y, size, size};
            if (!outside(at) && (!best || hidden(at) < hidden(*best))) best = at;
        }
    }
    return best.value_or(Rect{mouse.x + away, mouse.y + away, size, size});
}

FilmView zoomed(FilmView view, double factor, ScreenPoint at) {
    const ImagePoint held = view.to_image(at);
    view.centre = middle_of(view);
    view.zoom = std::clamp(view.zoom * factor, 1.0, 16.0);
    if (view.zoom > 1.0) {
        const ImagePoint moved = view.to_image(at);
        view.centre.x_px += held.x_px - moved.x_px;
        view.centre.y_px += held.y_px - moved.y_px;
    }
    return view;
}

namespace {

bool lies_on_its_side(NetAt net) {
    return net == NetAt::left || net == NetAt::right;
}

/// From metres off the middle of what is shown, seen with the net at the bottom, to the plan as it is turned, y down.
struct Turned {
    double x = 0.0, y = 0.0;
};
Turned turned(double across, double along, NetAt net) {
    switch (net) {
    case NetAt::bottom:
        break;
    case NetAt::left:
        return {along, across};
    case NetAt::top:
        return {-across, along};
    case NetAt::right:
        return {-along, -across};
    }
    return {across, -along};
}

} // namespace

double PlanView::scale() const {
    const double across = left_m + right_m, along = behind_m + up_ice_m;
    const bool side = lies_on_its_side(net);
    return std::min(panel.width / (side ? along : across), panel.height / (side ? across : along));
}

ScreenPoint PlanView::to_screen(IcePoint at) const {
    const double s = scale();
    const Turned off = turned(at.x_m - 0.5 * (right_m - left_m), at.y_m - 0.5 * (up_ice_m - behind_m), net);
    return {static_cast<float>(panel.x + panel.width * 0.5 + off.x * s),
            static_cast<float>(panel.y + panel.height * 0.5 + off.y * s)};
}

IcePoint PlanView::to_ice(ScreenPoint at) const {
    const double s = scale();
    const double x = (at.x - (panel.x + panel.width * 0.5)) / s;
    const double y = (at.y - (panel.y + panel.height * 0.5)) / s;
    const IcePoint middle{0.5 * (right_m - left_m), 0.5 * (up_ice_m - behind_m)};
    switch (net) {
    case NetAt::bottom:
        break;
    case NetAt::left:
        return middle + IcePoint{y, x};
    case NetAt::top:
        return middle + IcePoint{-x, y};
    case NetAt::right:
        return middle + IcePoint{-y, -x};
    }
    return middle + IcePoint{x, -y};
}

PlanView plan_of_play(const Rect& panel, std::span<const IcePoint> places, NetAt net) {
    const PlanView whole{.panel = panel, .net = net};
    if (places.empty()) return whole;
    constexpr double step_m = 0.5, air_m = 0.7;
    PlanView play{
        .panel = panel, .left_m = 2.5, .right_m = 2.5, .behind_m = 1.5, .up_ice_m = 4.5, .net = net};
    const auto in_steps = [](double m) { return step_m * std::ceil((m + air_m) / step_m); };
    for (const IcePoint at : places) {
        play.left_m = std::clamp(in_steps(-at.x_m), play.left_m, whole.left_m);
        play.right_m = std::clamp(in_steps(at.x_m), play.right_m, whole.right_m);
        play.up_ice_m = std::clamp(in_steps(at.y_m), play.up_ice_m, whole.up_ice_m);
        if (at.y_m < 0.0) play.behind_m = whole.behind_m;
    }
    return play;
}

NetAt net_as_filmed(IcePoint right) {
    if (std::abs(right.x_m) >= std::abs(right.y_m)) return right.x_m >= 0.0 ? NetAt::bottom : NetAt::top;
    return right.y_m > 0.0 ? NetAt::left : NetAt::right;
}

} // namespace ropeline
