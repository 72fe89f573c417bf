#include "reel/overlay.h"

#include "rink/paint.h"
#include "rink/units.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace ropeline {
namespace {

void trace(cairo_t* pen, const OnCanvas& on, const RinkFit& fit, const std::vector<IcePoint>& line) {
    for (const auto& piece : in_picture(fit, line, on.film)) {
        cairo_new_sub_path(pen);
        for (const ImagePoint at : piece)
            cairo_line_to(pen, on(at).x_px, on(at).y_px);
    }
}

/// The line, or its dashes, as lines of their own on the ice: they get shorter with the distance as paint does.
std::vector<std::vector<IcePoint>> dashes_of(const std::vector<IcePoint>& line, double dash_m) {
    const double whole = line.empty() ? 0.0 : distance(line.front(), line.back());
    if (dash_m <= 0.0 || whole <= 0.0) return {line};
    std::vector<std::vector<IcePoint>> dashes;
    const IcePoint along = (line.back() - line.front()) * (1.0 / whole);
    for (const auto& [from, to] : inked_stretches(whole, dash_m))
        dashes.push_back({line.front() + along * from, line.front() + along * to});
    return dashes;
}

void draw_line(cairo_t* pen, const OnCanvas& on, const RinkFit& fit, const std::vector<IcePoint>& line,
               const OverlayStroke& stroke) {
    if (stroke.width <= 0.0) return;
    const double unit = on.height_px / 1000.0;
    cairo_new_path(pen);
    for (const auto& dash : dashes_of(line, stroke.dash_m))
        trace(pen, on, fit, dash);
    cairo_set_line_cap(pen, stroke.width > 8.0 ? CAIRO_LINE_CAP_BUTT : CAIRO_LINE_CAP_ROUND);
    if (stroke.edge > 0.0) {
        set_colour(pen, stroke.edge_colour);
        cairo_set_line_width(pen, (stroke.width + 2.0 * stroke.edge) * unit);
        cairo_stroke_preserve(pen);
    }
    set_colour(pen, stroke.colour);
    cairo_set_line_width(pen, stroke.width * unit);
    cairo_stroke(pen);
}

/// A line's words on a ground of their own, at a place along it where no others stand and that hides nobody, or least.
void draw_label(cairo_t* pen, const OnCanvas& on, const RinkFit& fit, const IceLine& line,
                const std::vector<Box>& people, std::vector<Box>& written) {
    if (line.label.empty() || line.points.empty()) return;
    const TextLook look{on.height_px / 36.0,
                        line.kind == IceLineKind::lost_pass ? overlay_trouble : overlay_text, true};
    const TextSize size = text_size(pen, line.label, look);
    const double pad = 0.3 * look.size_px;
    std::vector<Box> places;
    for (const double beside : {0.0, -1.2, 1.2}) { // heights of the label: on the line, above it, below it
        for (const double share : {0.5, 0.6, 0.7, 0.4, 0.8, 0.3, 0.9, 0.2, 1.0}) {
            const auto at =
                image_at(fit, line.points.front() + (line.points.back() - line.points.front()) * share);
            if (!at) continue;
            const ImagePoint middle = on(*at);
            places.push_back({middle.x_px - 0.5 * size.width_px - pad,
                              middle.y_px + (beside - 0.5) * size.height_px, size.width_px + 2.0 * pad,
                              size.height_px});
        }
    }
    if (places.empty()) return;
    std::vector<Box> readable = places;
    std::erase_if(readable, [&](const Box& place) {
        return std::ranges::any_of(written, [&](const Box& other) { return overlap(place, other); });
    });
    if (!readable.empty()) places = std::move(readable);
    const Box box = places[clearest(places, people)];
    written.push_back(box);
    fill_box(pen, box.x, box.y, box.width, box.height, pad, with_alpha(overlay_ground, 0.82));
    draw_text(pen, box.x + pad, box.y, line.label, look);
}

void draw_shape(cairo_t* pen, MarkKind kind, ImagePoint at, double r) {
    cairo_new_path(pen);
    if (kind == MarkKind::puck) {
        cairo_arc(pen, at.x_px, at.y_px, r, 0.0, 2.0 * pi);
    } else if (kind == MarkKind::threat) {
        cairo_rectangle(pen, at.x_px - r, at.y_px - r, 2.0 * r, 2.0 * r);
    } else { // stands on the blade: the point is where the skate touches the ice
        cairo_move_to(pen, at.x_px, at.y_px);
        cairo_line_to(pen, at.x_px - r, at.y_px - 1.6 * r);
        cairo_line_to(pen, at.x_px + r, at.y_px - 1.6 * r);
        cairo_close_path(pen);
    }
}

void draw_mark(cairo_t* pen, const OnCanvas& on, const RinkFit& fit, const Mark& mark) {
    const auto seen = mark.at ? mark.at : mark.ice ? image_at(fit, *mark.ice) : std::nullopt;
    if (!seen) return;
    const double unit = on.height_px / 1000.0;
    draw_shape(pen, mark.kind, on(*seen), 9.0 * unit);
    set_colour(pen, with_alpha(overlay_ground, 0.85));
    cairo_set_line_width(pen, 6.0 * unit);
    cairo_stroke_preserve(pen);
    set_colour(pen, overlay_text);
    cairo_set_line_width(pen, 3.0 * unit);
    cairo_stroke(pen);
}

/// Draws nowhere else while it lives.
class Clipped {
public:
    Clipped(cairo_t* pen, const Box& box) : pen_(pen) {
        cairo_save(pen);
        cairo_rectangle(pen, box.x, box.y, box.width, box.height);
        cairo_clip(pen);
    }
    ~Clipped() { cairo_restore(pen_); }
    Clipped(const Clipped&) = delete;
    Clipped& operator=(const Clipped&) = delete;

private:
    cairo_t* pen_;
};

void draw_lines(cairo_t* pen, const OnCanvas& on, const ShownMoment& shown) {
    draw_rink(pen, on, *shown.fit, shown.rules);
    for (const bool wide : {true, false}) { // the wide ones below, so that they hide nothing
        for (const IceLine& line : shown.lines) {
            const OverlayStroke stroke = stroke_of(line.kind);
            if ((stroke.width > 8.0) == wide) draw_line(pen, on, *shown.fit, line.points, stroke);
        }
    }
    for (const Mark& mark : shown.moment.marks)
        draw_mark(pen, on, *shown.fit, mark);
}

} // namespace

OnCanvas on_canvas(const YuvPlace& place, ImageSize film, double height_px) {
    return {1.0 * place.x_px, 1.0 * place.y_px, 1.0 * place.width_px / std::max(1, film.width_px), height_px,
            film};
}

void draw_rink(cairo_t* pen, const OnCanvas& on, const RinkFit& fit, RuleBookId rules) {
    for (const PaintLine& line : rink_paint(rule_book(rules)))
        draw_line(pen, on, fit, line.points, stroke_of(line.kind));
}

void draw_moment(cairo_t* pen, const OnCanvas& on, const Box& room, const ShownPlay& play,
                 const ShownMoment& shown, const MomentParts& parts) {
    const bool lines = parts.lines && shown.fit;
    const Box film{on.x_px, on.y_px, on.film.width_px * on.scale, on.film.height_px * on.scale};
    const std::vector<Box> people = people_in(on, shown);
    std::vector<Box> written;
    if (lines) {
        const Clipped only_film(pen, film);
        draw_lines(pen, on, shown);
    }
    if (parts.words) written = draw_words(pen, room, play, shown, parts.note, people);
    if (lines) {
        const Clipped only_film(pen, film);
        for (const IceLine& line : shown.lines)
            draw_label(pen, on, *shown.fit, line, people, written);
    }
}

} // namespace ropeline
