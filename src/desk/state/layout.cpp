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

LogLayout log_layout(float width, float height, float unit, int other_films, bool browsing) {
    const float top = header_height(unit);
    const float gap = 0.5F * unit;
    const float keys_height = 2.0F * unit;
    const float ribbon_height = 4.4F * unit + other_films_height(unit, other_films);
    const float column = std::clamp(0.30F * width, std::min(24.0F * unit, 0.45F * width), 34.0F * unit);
    const float left = std::max(1.0F, width - column - gap);
    const float bottom = height - keys_height;
    const float body = std::max(1.0F, bottom - top);

    LogLayout at;
    at.header = {0.0F, 0.0F, width, top};
    at.keys = {0.0F, bottom, width, keys_height};
    at.ribbon = {0.0F, bottom - ribbon_height, left, ribbon_height};
    // What a wide picture leaves under itself goes to the decision; it never shrinks below the verdict and six lines of
    // text.
    const float left_over = body - ribbon_height - left * 9.0F / 16.0F;
    const float decision_height = std::clamp(left_over, 8.25F * unit, 12.0F * unit);
    at.film = {0.0F, top, left, std::max(1.0F, body - ribbon_height - decision_height)};
    at.decision = {0.0F, top + at.film.height, left, decision_height};

    const float column_x = left + gap;
    const float card_height = std::min(25.6F * unit, 0.57F * body);
    const float plan_height = std::clamp(0.28F * body, 11.0F * unit, 0.8F * column);
    at.card = {column_x, top, column, card_height};
    const float plan_y = top + card_height + gap;
    const float plan_width = std::min(plan_height * 27.2F / 24.8F, 0.62F * column);
    at.plan = {column_x, plan_y, plan_width, plan_height};
    at.reading = {column_x + plan_width + gap, plan_y, column - plan_width - gap, plan_height};
    const float list_y = plan_y + plan_height + gap;
    at.list = {column_x, list_y, column, std::max(1.0F, bottom - list_y)};

    if (browsing && at.list.height < 12.0F * unit) {
        at.card.height = std::min(card_height, 9.0F * unit);
        at.plan = at.reading = {column_x, bottom, 0.0F, 0.0F};
        const float under_card = top + at.card.height + gap;
        at.list = {column_x, under_card, column, std::max(1.0F, bottom - under_card)};
    }

    const float fit_plan_height = std::min(column * 24.8F / 27.2F, 0.48F * body);
    at.fit_plan = {column_x, top, column, fit_plan_height};
    at.fit_card = {column_x, top + fit_plan_height + gap, column,
                   std::max(1.0F, body - fit_plan_height - gap)};
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

double PlanView::scale() const {
    return std::min(panel.width / (2.0 * half_width_m), panel.height / (behind_m + up_ice_m));
}

ScreenPoint PlanView::to_screen(IcePoint at) const {
    const double s = scale();
    const double top = panel.y + 0.5 * (panel.height - s * (behind_m + up_ice_m));
    return {static_cast<float>(panel.x + panel.width * 0.5 + at.x_m * s),
            static_cast<float>(top + (up_ice_m - at.y_m) * s)};
}

IcePoint PlanView::to_ice(ScreenPoint at) const {
    const double s = scale();
    const double top = panel.y + 0.5 * (panel.height - s * (behind_m + up_ice_m));
    return {(at.x - (panel.x + panel.width * 0.5)) / s, up_ice_m - (at.y - top) / s};
}

PlanView plan_of_play(const Rect& panel, std::span<const IcePoint> places) {
    const PlanView whole{.panel = panel};
    if (places.empty()) return whole;
    constexpr double step_m = 2.0, air_m = 1.2;
    double side = 4.0, up_ice = 6.0, behind = 1.6; // never less than net, crease and a goalie far out
    for (const IcePoint at : places) {
        side = std::max(side, step_m * std::ceil((std::abs(at.x_m) + air_m) / step_m));
        up_ice = std::max(up_ice, step_m * std::ceil((at.y_m + air_m) / step_m));
        if (at.y_m < 0.0) behind = whole.behind_m;
    }
    PlanView play = whole;
    play.half_width_m = std::min(side, whole.half_width_m);
    play.up_ice_m = std::min(up_ice, whole.up_ice_m);
    play.behind_m = behind;
    return play;
}

} // namespace ropeline
