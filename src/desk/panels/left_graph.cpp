// Net left along the puck line: from the goal line on the left to a little beyond the furthest out.
#include "desk/panels/left_graph.h"

#include "rink/units.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

/// Metres out and shares of the net to the panel.
struct Axes {
    Rect room;
    double furthest_m = 1.0, most = 1.0;
    float x(double out_m) const {
        return room.x + room.width * static_cast<float>(std::clamp(out_m / furthest_m, 0.0, 1.0));
    }
    float y(double share) const {
        return room.y + room.height * static_cast<float>(1.0 - std::clamp(share / most, 0.0, 1.0));
    }
};

/// The highest that is shown, in steps of a tenth: of the whole play, so that one pass nobody could reach does not
/// press its curve flat; that pass leaves through the top.
double most_shown(const LeftCurve& left) {
    double most = 0.1;
    for (const CurvePoint& place : left.places)
        most = std::max(most, place.left);
    return std::min(1.0, std::ceil(12.0 * most) / 10.0);
}

template <class Share>
void draw_curve(ImDrawList* draw, const Axes& axes, const LeftCurve& left, Share share_at, ImU32 colour,
                float width) {
    std::vector<ImVec2> points;
    for (std::size_t index = 0; index < left.places.size(); ++index)
        points.push_back({axes.x(left.places[index].out_m), axes.y(share_at(index))});
    draw->AddPolyline(points.data(), static_cast<int>(points.size()), colour, ImDrawFlags_None, width);
}

/// A receiver's letter where his pass stops working; nothing for one that works anywhere or nowhere.
void draw_passes(const Look& look, ImDrawList* draw, const Axes& axes, const LeftCurve& left) {
    const Palette& c = look.colours;
    for (std::size_t index = 0; index < left.passes.size(); ++index) {
        const LeftCurve::Pass& pass = left.passes[index];
        draw_curve(
            draw, axes, left, [&](std::size_t place) { return pass.open[place]; }, faded(c.trouble, 0.6F),
            look.pen(1.0F));
        if (pass.works_anywhere || !pass.works_m) continue;
        const float x = axes.x(*pass.works_m);
        const std::string letter(1, static_cast<char>('a' + index % 26));
        draw->AddLine({x, axes.room.y}, {x, axes.room.y + axes.room.height}, faded(c.trouble, 0.7F),
                      look.pen(1.0F));
        draw_text(draw, look.body, {x + 0.15F * look.unit, axes.room.y - 0.1F * look.unit}, c.trouble,
                  letter);
    }
}

void draw_foot(const Look& look, ImDrawList* draw, const Axes& axes) {
    const Palette& c = look.colours;
    const float foot = axes.room.y + axes.room.height;
    draw->AddLine({axes.room.x, foot}, {axes.room.x + axes.room.width, foot}, c.edge);
    const bool feet = look.lengths == LengthUnit::feet;
    const double unit_m = feet ? metres_per_foot : 1.0;
    const double furthest = axes.furthest_m / unit_m;
    const double step = unit_m * (furthest > 6.0 ? 2.0 : furthest > 3.0 ? 1.0 : 0.5);
    for (double out_m = 0.0; out_m <= axes.furthest_m; out_m += step) {
        const float x = axes.x(out_m);
        draw->AddLine({x, foot}, {x, foot + 0.2F * look.unit}, c.edge);
        const double out = out_m / unit_m;
        if (std::abs(out - std::round(out)) > 0.1) continue;
        const std::string words =
            out > 0.0 ? fmt::format("{:.0f} {}", out, feet ? "ft" : "m") : std::string{"0"};
        const float wide = text_size(look.body, words).x;
        if (x + 0.5F * wide < axes.room.x + axes.room.width + 0.4F * look.unit)
            draw_text(draw, look.body, {x - 0.5F * wide, foot + 0.15F * look.unit}, c.quiet, words);
    }
}

void explain(const Look& look, const Rect& place, const Judged& view, const LeftCurve& left) {
    if (!ImGui::IsMouseHoveringRect(corner(place), far_corner(place)) || !ImGui::IsWindowHovered()) return;
    std::string passes;
    for (std::size_t index = 0; index < left.passes.size(); ++index) {
        const LeftCurve::Pass& pass = left.passes[index];
        passes += fmt::format("\n{}, furthest out that works: {}", static_cast<char>('a' + index % 26),
                              pass.works_anywhere ? "anywhere"
                              : pass.works_m      ? length_words(look, *pass.works_m)
                                                  : "nowhere");
    }
    ImGui::SetTooltip(
        "Net left: the share of the net this play leaves from each place on the puck line, the shot "
        "and\nevery pass weighed by how likely they come first. The band is the advised stretch, the "
        "square\nthe goalie: %.0f %% left. Thin lines: what each pass would find open.%s",
        100.0 * view.decision.left, passes.c_str());
}

} // namespace

void draw_left_graph(const Look& look, ImDrawList* draw, const Rect& place, const Judged& view,
                     const LeftCurve& left) {
    const Palette& c = look.colours;
    const Advice& advice = *view.decision.advice;
    fill_opaque(draw, corner(place), far_corner(place), c.panel);
    const float unit = look.unit;
    const float above = look.type.fact + 0.3F * unit;
    const Axes axes{{place.x + 0.7F * unit, place.y + above, place.width - 1.9F * unit,
                     place.height - above - 1.4F * unit},
                    std::max(0.5, left.places.back().out_m),
                    most_shown(left)};
    const float top = axes.room.y, foot = top + axes.room.height;
    const std::string head = fmt::format("net left {:.0f} %", 100.0 * view.decision.left);
    const ImVec2 words = draw_text(draw, look.fact, {axes.room.x, place.y + 0.1F * unit}, c.text, head);
    const std::string best = fmt::format("best {:.0f} %", 100.0 * advice.left_best);
    if (words.x + text_size(look.fact, best).x + unit < axes.room.width)
        draw_text(draw, look.fact,
                  {axes.room.x + axes.room.width - text_size(look.fact, best).x, place.y + 0.1F * unit},
                  c.save, best);
    draw->AddRectFilled({axes.x(advice.from_m), top}, {axes.x(advice.to_m), foot}, faded(c.save, 0.30F));
    draw->PushClipRect({axes.room.x, top}, {axes.room.x + axes.room.width, foot + 1.0F}, true);
    draw_passes(look, draw, axes, left);
    draw_curve(
        draw, axes, left, [&](std::size_t place_at) { return left.places[place_at].left; }, c.text,
        look.pen(2.0F));
    draw->PopClipRect();
    draw_foot(look, draw, axes);
    const ImVec2 at{axes.x(view.decision.reading.depth_m), axes.y(view.decision.left)};
    const float r = 0.28F * unit;
    draw->AddLine({at.x, at.y}, {at.x, foot}, c.rope, look.pen(1.5F));
    draw->AddRectFilled({at.x - r, at.y - r}, {at.x + r, at.y + r}, c.rope, look.pen(2.0F));
    draw->AddRect({at.x - r, at.y - r}, {at.x + r, at.y + r}, c.ground, look.pen(2.0F));
    explain(look, place, view, left);
}

} // namespace ropeline
