#include "desk/state/close_up.h"

#include "sheet/ice_drawing.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

class Box {
public:
    void add(ImagePoint at) {
        if (!box_) box_ = PictureBox{at.x_px, at.y_px, at.x_px, at.y_px};
        box_->left_px = std::min(box_->left_px, at.x_px);
        box_->right_px = std::max(box_->right_px, at.x_px);
        box_->top_px = std::min(box_->top_px, at.y_px);
        box_->bottom_px = std::max(box_->bottom_px, at.y_px);
    }
    void add(const RinkFit& fit, IcePoint at) {
        if (const auto seen = image_at(fit, at)) add(*seen);
    }
    const std::optional<PictureBox>& whole() const { return box_; }

private:
    std::optional<PictureBox> box_;
};

/// Somebody who stands there: as high in the picture as two metres across the line of sight are wide there.
void add_player(Box& box, const RinkFit& fit, IcePoint at) {
    constexpr double tall_m = 2.0, half_m = 0.6;
    const auto feet = image_at(fit, at);
    if (!feet) return;
    double px_a_metre = 0.0;
    for (const IcePoint side : {IcePoint{half_m, 0.0}, IcePoint{0.0, half_m}}) {
        const auto one = image_at(fit, at - side), other = image_at(fit, at + side);
        if (one && other)
            px_a_metre = std::max(px_a_metre, std::hypot(one->x_px - other->x_px, one->y_px - other->y_px) /
                                                  (2.0 * half_m));
    }
    box.add({feet->x_px - half_m * px_a_metre, feet->y_px - tall_m * px_a_metre});
    box.add({feet->x_px + half_m * px_a_metre, feet->y_px + 0.3 * px_a_metre});
}

/// By the clicks alone: some air for his height, which nothing tells.
std::optional<PictureBox> box_of_clicks(const Moment& moment) {
    Box box;
    constexpr double air_px = 120.0;
    for (const Mark& mark : moment.marks) {
        if (mark.kind == MarkKind::threat || !mark.at) continue;
        box.add({mark.at->x_px - air_px, mark.at->y_px - 2.0 * air_px});
        box.add({mark.at->x_px + air_px, mark.at->y_px + air_px});
    }
    return box.whole();
}

} // namespace

std::optional<PictureBox> box_of_play(const Moment& moment, const FitHere& rink) {
    const auto goalie = goalie_place(moment);
    const auto puck = std::ranges::find(moment.marks, MarkKind::puck, &Mark::kind);
    const bool placed = goalie && puck != moment.marks.end() && puck->ice;
    if (!rink.fit || !placed) return box_of_clicks(moment);
    Box box;
    add_player(box, *rink.fit, *goalie);
    for (const IcePoint corner : {IcePoint{-0.95, 0.0}, IcePoint{0.95, 0.0}, IcePoint{0.0, -1.1}})
        box.add(*rink.fit, corner);
    constexpr double about_puck_m = 0.8;
    for (const double side : {-about_puck_m, about_puck_m}) {
        box.add(*rink.fit, *puck->ice + IcePoint{side, 0.0});
        box.add(*rink.fit, *puck->ice + IcePoint{0.0, side});
    }
    return box.whole();
}

FilmView close_up(const FilmView& whole, const PictureBox& box) {
    constexpr double air = 1.25, closest = 5.0;
    FilmView view = whole;
    view.zoom = 1.0;
    const double whole_scale = view.scale();
    const double wide = std::max(1.0, air * (box.right_px - box.left_px));
    const double tall = std::max(1.0, air * (box.bottom_px - box.top_px));
    const double scale = std::min({view.panel.width / wide, view.panel.height / tall, closest * whole_scale});
    view.zoom = std::max(1.0, scale / whole_scale);
    const auto middle = [&](double from, double to, double panel, double picture) {
        const double half = 0.5 * panel / view.scale();
        return half >= 0.5 * picture ? 0.5 * picture : std::clamp(0.5 * (from + to), half, picture - half);
    };
    view.centre = {middle(box.left_px, box.right_px, view.panel.width, view.shown.width_px),
                   middle(box.top_px, box.bottom_px, view.panel.height, view.shown.height_px)};
    return view;
}

namespace {

ImagePoint middle_seen(const FilmView& view) {
    return view.to_image({view.panel.x + 0.5F * view.panel.width, view.panel.y + 0.5F * view.panel.height});
}

} // namespace

FilmView on_the_way(const FilmView& from, const FilmView& to, double share) {
    const double left = 1.0 - std::clamp(share, 0.0, 1.0);
    const double done = 1.0 - left * left * left;
    if (done >= 1.0) return to;
    FilmView view = to;
    view.zoom = from.zoom * std::pow(to.zoom / from.zoom, done);
    const ImagePoint begin = middle_seen(from), end = middle_seen(to);
    view.centre = {begin.x_px + (end.x_px - begin.x_px) * done, begin.y_px + (end.y_px - begin.y_px) * done};
    view.zoom = std::max(view.zoom, 1.0 + 1e-9); // a view on its way has a middle of its own
    return view;
}

FilmView in_panel(const FilmView& view, const Rect& panel) {
    FilmView moved = view;
    moved.centre = middle_seen(view);
    moved.panel = panel;
    moved.zoom = 1.0;
    moved.zoom = std::max(1.0 + 1e-9, view.scale() / moved.scale());
    return moved;
}

} // namespace ropeline
