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

/// The words, a part a line: each with its look.
struct Line {
    std::string text;
    TextLook look;
};

std::vector<Line> lines_of(const ShownPlay& play, const ShownMoment& shown, double unit, bool with_note) {
    std::vector<Line> lines;
    if (!shown.headline.empty()) lines.push_back({shown.headline, {1.25 * unit, overlay_text, true}});
    if (!shown.advice.empty())
        lines.push_back({fmt::format("Advised: {}", shown.advice), {unit, overlay_advised}});
    if (with_note && !play.shot.note.empty()) lines.push_back({play.shot.note, {unit, overlay_text}});
    return lines;
}

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

/// In a corner at the head: right or left, smaller where it would hide somebody else.
Box eye_box(const Box& room, double gap, const std::vector<Box>& keep_clear) {
    std::vector<Box> corners;
    const double larger =
        room.width < room.height ? 1.4 : 1.0; // in half a picture its words would be too small
    for (const double share : {0.26, 0.19}) {
        const double wide = larger * share * room.width;
        corners.push_back({room.x + room.width - wide - gap, room.y + gap, wide, 0.68 * wide});
        corners.push_back({room.x + gap, room.y + gap, wide, 0.68 * wide});
    }
    return corners[clearest(corners, keep_clear)];
}

/// What and when, in the corner at the head that the eye leaves free.
Box draw_name(cairo_t* pen, const Box& room, const std::string& name, double unit, double gap,
              const std::optional<Box>& eye) {
    const TextLook look{0.9 * unit, overlay_text, true, room.width - (eye ? eye->width : 0.0) - 5.0 * gap};
    const TextSize size = text_size(pen, name, look);
    const double wide = size.width_px + 2.0 * gap;
    const bool eye_at_left = eye && eye->x < room.x + 0.5 * (room.width - eye->width);
    const Box box{eye_at_left ? room.x + room.width - wide - gap : room.x + gap, room.y + gap, wide,
                  size.height_px + gap};
    fill_box(pen, box.x, box.y, box.width, box.height, gap, with_alpha(overlay_ground, 0.82));
    draw_text(pen, box.x + gap, box.y + 0.5 * gap, name, look);
    return box;
}

/// Lines of text in a box, the margin around them included.
struct Words {
    std::vector<Line> lines;
    Box box;
};

/// Broken at that width; letters get smaller where it would be too high.
Words broken(cairo_t* pen, std::vector<Line> lines, double width, double margin, double most_high) {
    double high = 0.0;
    for (Line& line : lines) {
        line.look.wrap_px = width - 2.0 * margin;
        line.look = fitted_look(pen, line.text, line.look, most_high - high);
        high += text_size(pen, line.text, line.look).height_px;
    }
    return {std::move(lines), {0.0, 0.0, width, high + margin}};
}

/// Along the whole foot; where that hides somebody, in a corner of it, or at the head below `name` and beside the eye.
Words placed(cairo_t* pen, const Box& room, const std::vector<Line>& lines, double gap, const Box& name,
             const std::vector<Box>& keep_clear) {
    const double most = 0.34 * room.height, margin = 2.0 * gap;
    const Words wide = broken(pen, lines, room.width, margin, most),
                narrow = broken(pen, lines, 0.55 * room.width, margin, most);
    const double high = narrow.box.height, right = room.x + room.width - narrow.box.width - gap,
                 foot = room.y + room.height;
    const bool name_at_left = name.x < room.x + 0.5 * (room.width - name.width);
    const Box boxes[] = {
        {room.x, foot - wide.box.height, room.width, wide.box.height},
        {room.x + gap, foot - high - gap, narrow.box.width, high},
        {right, foot - high - gap, narrow.box.width, high},
        {name_at_left ? room.x + gap : right, name.y + name.height + gap, narrow.box.width, high}};
    const std::size_t chosen = clearest(boxes, keep_clear);
    return {chosen == 0 ? wide.lines : narrow.lines, boxes[chosen]};
}

} // namespace

std::vector<Box> draw_words(cairo_t* pen, const Box& room, const ShownPlay& play, const ShownMoment& shown,
                            bool with_note, const std::vector<Box>& keep_clear) {
    const double unit = std::min(room.height, room.width) / 27.0, gap = 0.5 * unit;
    std::vector<Box> covered;
    std::optional<Box> eye;
    if (shown.eye) {
        eye = covered.emplace_back(eye_box(room, gap, keep_clear));
        draw_puck_eye(pen, *eye, *shown.eye);
    }
    const std::string when = fmt::format("{} · {}", name_of(play), name_of(shown.moment.kind));
    const Box name = covered.emplace_back(draw_name(pen, room, when, unit, gap, eye));
    const auto lines = lines_of(play, shown, unit, with_note);
    if (lines.empty()) return covered;
    std::vector<Box> all = keep_clear;
    all.insert(all.end(), covered.begin(), covered.end());
    const Words words = placed(pen, room, lines, gap, name, all);
    const Box& box = words.box;
    fill_box(pen, box.x, box.y, box.width, box.height, box.width < room.width ? gap : 0.0,
             with_alpha(overlay_ground, 0.82));
    double y = box.y + gap;
    for (const Line& line : words.lines)
        y += draw_text(pen, box.x + 2.0 * gap, y, line.text, line.look).height_px;
    covered.push_back(box);
    return covered;
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
