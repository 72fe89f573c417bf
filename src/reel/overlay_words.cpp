#include "reel/overlay.h"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace ropeline {
namespace {

/// From what the eye sees (tangents) to the box: the mouth fills its width or its height, upright.
struct EyeToBox {
    double x = 0.0, y = 0.0, scale = 1.0;
    void trace(cairo_t* pen, const std::vector<EyePoint>& outline) const {
        cairo_new_path(pen);
        for (const EyePoint at : outline)
            cairo_line_to(pen, x + at.right * scale, y - at.up * scale);
    }
};

EyeToBox fitted(const PuckEye& eye, const Box& box) {
    const double scale = std::min(box.width / (eye.right - eye.left), box.height / eye.top);
    return {box.x + 0.5 * box.width - 0.5 * (eye.left + eye.right) * scale,
            box.y + 0.5 * (box.height + eye.top * scale), scale};
}

void draw_netting(cairo_t* pen, const EyeToBox& map, const PuckEye& eye, double unit) {
    map.trace(pen, eye.mouth);
    cairo_close_path(pen);
    set_colour(pen, with_alpha(overlay_boards, 0.45));
    cairo_fill(pen);
    set_colour(pen, with_alpha(overlay_text, 0.22));
    cairo_set_line_width(pen, 0.04 * unit);
    for (const auto& [from, to] : eye.netting) {
        map.trace(pen, {from, to});
        cairo_stroke(pen);
    }
}

/// The words along the foot, a part a line: each with its look.
struct Line {
    std::string text;
    TextLook look;
};

std::vector<Line> lines_of(const ShownPlay& play, const ShownMoment& shown, double unit, double wrap,
                           bool with_note) {
    std::vector<Line> lines;
    if (!shown.headline.empty()) lines.push_back({shown.headline, {1.25 * unit, overlay_text, true, wrap}});
    if (!shown.advice.empty())
        lines.push_back({fmt::format("Advised: {}", shown.advice), {unit, overlay_advised, false, wrap}});
    if (with_note && !play.shot.note.empty())
        lines.push_back({play.shot.note, {unit, overlay_text, false, wrap}});
    return lines;
}

} // namespace

void draw_puck_eye(cairo_t* pen, const Box& box, const PuckEye& eye) {
    const double unit = box.height / 9.0;
    fill_box(pen, box.x, box.y, box.width, box.height, 0.4 * unit, with_alpha(overlay_ground, 0.88));
    const EyeToBox map = fitted(
        eye, {box.x + 0.7 * unit, box.y + 0.7 * unit, box.width - 1.4 * unit, box.height - 3.0 * unit});
    cairo_save(pen);
    cairo_rectangle(pen, box.x, box.y, box.width, box.height - 1.9 * unit);
    cairo_clip(pen);
    draw_netting(pen, map, eye, unit);
    map.trace(pen, eye.shadow);
    set_colour(pen, with_alpha(overlay_ground, 0.9));
    cairo_fill(pen);
    if (!eye.block.empty()) {
        map.trace(pen, eye.block);
        cairo_close_path(pen);
        set_colour(pen, overlay_rope);
        cairo_set_line_width(pen, 0.16 * unit);
        cairo_stroke(pen);
    }
    map.trace(pen, {eye.mouth[0], eye.mouth[3], eye.mouth[2], eye.mouth[1]});
    set_colour(pen, overlay_red_paint);
    cairo_set_line_width(pen, 0.34 * unit);
    cairo_stroke(pen);
    cairo_restore(pen);
    const std::string words = fmt::format("The puck sees {:.0f} % of the net", 100.0 * eye.share);
    TextLook look{1.05 * unit, overlay_text, true};
    while (text_size(pen, words, look).width_px > box.width - unit)
        look.size_px *= 0.9;
    draw_text(pen, box.x + 0.5 * unit, box.y + box.height - 1.7 * unit, words, look);
}

void draw_words(cairo_t* pen, const Box& room, const ShownPlay& play, const ShownMoment& shown,
                bool with_note) {
    const double unit = std::min(room.height, room.width) / 27.0, gap = 0.5 * unit;
    const double eye_wide = 0.26 * room.width;
    if (shown.eye)
        draw_puck_eye(pen, {room.x + room.width - eye_wide - gap, room.y + gap, eye_wide, 0.68 * eye_wide},
                      *shown.eye);
    const std::string when = fmt::format("{} · {}", name_of(play), name_of(shown.moment.kind));
    TextLook small{0.9 * unit, overlay_text, true, room.width - (shown.eye ? eye_wide : 0.0) - 5.0 * gap};
    const TextSize size = text_size(pen, when, small);
    fill_box(pen, room.x + gap, room.y + gap, size.width_px + 2.0 * gap, size.height_px + gap, gap,
             with_alpha(overlay_ground, 0.82));
    draw_text(pen, room.x + 2.0 * gap, room.y + 1.5 * gap, when, small);

    const double wrap = room.width - 4.0 * gap, most = 0.34 * room.height;
    std::vector<Line> lines = lines_of(play, shown, unit, wrap, with_note);
    double high = 0.0;
    for (Line& line : lines) {
        line.look = fitted_look(pen, line.text, line.look, most - high);
        high += text_size(pen, line.text, line.look).height_px;
    }
    if (lines.empty()) return;
    fill_box(pen, room.x, room.y + room.height - high - 2.0 * gap, room.width, high + 2.0 * gap, 0.0,
             with_alpha(overlay_ground, 0.82));
    double y = room.y + room.height - high - gap;
    for (const Line& line : lines)
        y += draw_text(pen, room.x + 2.0 * gap, y, line.text, line.look).height_px;
}

void draw_card(cairo_t* pen, const Box& room, const std::string& heading, const std::string& below) {
    const double unit = std::min(room.height, room.width) / 27.0;
    fill_box(pen, room.x, room.y, room.width, room.height, 0.0, overlay_ground);
    const double wrap = 0.84 * room.width, x = room.x + 0.08 * room.width;
    const TextLook large =
        fitted_look(pen, heading, {2.2 * unit, overlay_text, true, wrap, true}, 0.4 * room.height);
    const TextLook small =
        fitted_look(pen, below, {1.2 * unit, overlay_quiet, false, wrap, true}, 0.3 * room.height);
    const double first = text_size(pen, heading, large).height_px,
                 second = text_size(pen, below, small).height_px;
    double y = room.y + 0.5 * (room.height - first - second - 1.6 * unit);
    draw_text(pen, x, y, heading, large);
    y += first + 0.6 * unit;
    fill_box(pen, room.x + 0.5 * room.width - 1.5 * unit, y, 3.0 * unit, 0.14 * unit, 0.0, overlay_rope);
    draw_text(pen, x, y + unit, below, small);
}

} // namespace ropeline
