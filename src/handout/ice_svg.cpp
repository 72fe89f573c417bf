#include "handout/ice_svg.h"

#include "rink/crease.h"
#include "rink/paint.h"
#include "sheet/ice_drawing.h"
#include "sheet/text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string_view>

namespace ropeline {
namespace {

struct Drawing {
    std::string svg;
    template <class... Values>
    void add(fmt::format_string<Values...> format, Values&&... values) {
        fmt::format_to(std::back_inserter(svg), format, std::forward<Values>(values)...);
    }

    void line(std::string_view of_class, const std::vector<IcePoint>& points) {
        add("<polyline class=\"{}\" points=\"", of_class);
        for (const IcePoint at : points)
            add("{:.0f},{:.0f} ", 100.0 * at.x_m, -100.0 * at.y_m);
        svg += "\"/>";
    }
};

/// The page's style knows these; empty: not drawn on the plan.
std::string_view class_of(IceLineKind kind) {
    switch (kind) {
    case IceLineKind::rope:
        return "rope";
    case IceLineKind::puck_line:
        return "puck-line";
    case IceLineKind::off_angle:
        return "off-angle";
    case IceLineKind::block:
        return "block";
    case IceLineKind::opening:
        return "opening";
    case IceLineKind::pass:
        return "pass";
    case IceLineKind::lost_pass:
        return "lost-pass";
    case IceLineKind::advised:
        return "advised";
    case IceLineKind::advised_end:
        return "advised-end";
    case IceLineKind::band:
    case IceLineKind::depth:
    case IceLineKind::stance:
    case IceLineKind::shadow:
        return {};
    }
    return {};
}

std::string_view class_of(PaintKind kind) {
    switch (kind) {
    case PaintKind::blue_line:
        return "blue-paint";
    case PaintKind::boards:
    case PaintKind::net:
        return "boards";
    default:
        return "red-paint";
    }
}

void add_rink(Drawing& to, RuleBookId id, const PlanBox& box) {
    const RuleBook& rules = rule_book(id);
    to.line("crease", crease_outline(rules, 24));
    const auto near = [&](IcePoint at) {
        return at.x_m > box.left_m - 12.0 && at.x_m < box.right_m + 12.0 && at.y_m > box.near_m - 12.0 &&
               at.y_m < box.far_m + 12.0;
    };
    for (const PaintLine& line : rink_paint(rules))
        if (std::ranges::any_of(line.points, near)) to.line(class_of(line.kind), line.points);
}

/// Half a mark, in the plan's own unit: as large beside a play that lies far out.
double half_mark(const PlanBox& box) {
    return 2.2 * std::max(box.right_m - box.left_m, box.far_m - box.near_m);
}

void add_play(Drawing& to, const ShownMoment& shown, double half) {
    std::size_t receivers = 0;
    for (const Mark& mark : shown.moment.marks) {
        if (!mark.ice) continue;
        const double x = 100.0 * mark.ice->x_m, y = -100.0 * mark.ice->y_m;
        if (mark.kind == MarkKind::puck)
            to.add("<circle class=\"puck\" cx=\"{:.0f}\" cy=\"{:.0f}\" r=\"{:.0f}\"/>", x, y, half);
        if (mark.kind != MarkKind::threat) continue;
        to.add("<rect class=\"receiver\" x=\"{:.0f}\" y=\"{:.0f}\" width=\"{:.0f}\" height=\"{:.0f}\"/>",
               x - half, y - half, 2.0 * half, 2.0 * half);
        to.add("<text class=\"letter\" x=\"{:.0f}\" y=\"{:.0f}\" font-size=\"{:.0f}\">{}</text>",
               x + 1.5 * half, y + 0.8 * half, 3.0 * half, receiver_letter(receivers++));
    }
}

void add_lines(Drawing& to, const ShownMoment& shown, double half) {
    to.svg += "<g class=\"answer\">";
    for (const bool wide : {true, false}) {
        for (const IceLine& line : shown.lines) {
            const std::string_view of_class = class_of(line.kind);
            if (!of_class.empty() && (line.kind == IceLineKind::advised) == wide)
                to.line(of_class, line.points);
        }
    }
    if (const auto goalie = goalie_place(shown.moment))
        to.add("<rect class=\"goalie\" x=\"{0:.0f}\" y=\"{1:.0f}\" width=\"{2:.0f}\" height=\"{2:.0f}\" "
               "rx=\"6\"/>",
               100.0 * goalie->x_m - half, -100.0 * goalie->y_m - half, 2.0 * half);
    to.svg += "</g>";
}

void add_outline(Drawing& to, std::string_view of_class, const std::vector<EyePoint>& outline, bool closed) {
    to.add("<{} class=\"{}\" points=\"", closed ? "polygon" : "polyline", of_class);
    for (const EyePoint at : outline)
        to.add("{:.2f},{:.2f} ", 1000.0 * at.right, -1000.0 * at.up);
    to.svg += "\"/>";
}

} // namespace

PlanBox plan_box(const ShownMoment& shown) {
    constexpr double step_m = 2.0, air_m = 1.2;
    PlanBox box;
    double side = box.right_m;
    for (const Mark& mark : shown.moment.marks) {
        if (!mark.ice || (mark.kind != MarkKind::puck && mark.kind != MarkKind::threat)) continue;
        side = std::max(side, step_m * std::ceil((std::abs(mark.ice->x_m) + air_m) / step_m));
        box.far_m = std::max(box.far_m, step_m * std::ceil((mark.ice->y_m + air_m) / step_m));
        if (mark.ice->y_m < 0.0) box.near_m = -4.4;
    }
    box.left_m = -std::min(side, 15.4);
    box.right_m = std::min(side, 15.4);
    box.far_m = std::min(box.far_m, 30.0);
    return box;
}

std::string plan_svg(const ShownMoment& shown, const PlanBox& box, const std::string& title) {
    Drawing drawing;
    drawing.add("<svg class=\"plan\" viewBox=\"{:.0f} {:.0f} {:.0f} {:.0f}\" role=\"img\" aria-label=\"{}\">",
                100.0 * box.left_m, -100.0 * box.far_m, 100.0 * (box.right_m - box.left_m),
                100.0 * (box.far_m - box.near_m), markup(title));
    drawing.add("<rect class=\"ice\" x=\"{:.0f}\" y=\"{:.0f}\" width=\"{:.0f}\" height=\"{:.0f}\"/>",
                100.0 * box.left_m, -100.0 * box.far_m, 100.0 * (box.right_m - box.left_m),
                100.0 * (box.far_m - box.near_m));
    add_rink(drawing, shown.rules, box);
    add_lines(drawing, shown, half_mark(box));
    add_play(drawing, shown, half_mark(box));
    const double cross = 1.3 * half_mark(box);
    drawing.add("<g class=\"you\" hidden><circle r=\"{0:.0f}\"/><path d=\"M-{1:.0f} 0H{1:.0f}M0 "
                "-{1:.0f}V{1:.0f}\"/></g></svg>",
                cross, 1.5 * cross);
    return drawing.svg;
}

std::string puck_eye_svg(const ShownMoment& shown) {
    if (!shown.eye) return {};
    const PuckEye& eye = *shown.eye;
    Drawing drawing;
    const double air = 0.08 * std::max(eye.right - eye.left, eye.top), scale = 1000.0;
    drawing.add("<svg class=\"eye\" viewBox=\"{:.1f} {:.1f} {:.1f} {:.1f}\" role=\"img\" aria-label=\"The "
                "net as the puck sees it: "
                "{:.0f} % of it open\">",
                scale * (eye.left - air), -scale * (eye.top + air),
                scale * (eye.right - eye.left + 2.0 * air), scale * (eye.top + 1.5 * air), 100.0 * eye.share);
    add_outline(drawing, "mouth", eye.mouth, true);
    for (const auto& [from, to] : eye.netting)
        add_outline(drawing, "netting", {from, to}, false);
    if (eye.shadow.size() > 2) add_outline(drawing, "shadow", eye.shadow, true);
    if (!eye.block.empty()) add_outline(drawing, "body", eye.block, true);
    add_outline(drawing, "pipe", {eye.mouth[0], eye.mouth[3], eye.mouth[2], eye.mouth[1]}, false);
    drawing.svg += "</svg>";
    return drawing.svg;
}

} // namespace ropeline
