// Net left along the puck line: from the goal line on the left to a little beyond the furthest out.
#include "desk/panels/left_graph.h"

#include "rink/units.h"
#include "sheet/ice_drawing.h"

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

/// A receiver's letter where the pass stops working; nothing for one that works anywhere or nowhere.
void draw_passes(const Look& look, ImDrawList* draw, const Axes& axes, const LeftCurve& left) {
    const Palette& c = look.colours;
    for (std::size_t index = 0; index < left.passes.size(); ++index) {
        const LeftCurve::Pass& pass = left.passes[index];
        draw_curve(
            draw, axes, left, [&](std::size_t place) { return pass.open[place]; }, faded(c.trouble, 0.6F),
            look.pen(1.0F));
        if (pass.works_anywhere || !pass.works_m) continue;
        const float x = axes.x(*pass.works_m);
        const std::string letter = receiver_letter(index);
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
        passes += fmt::format("\n{}, furthest out that works: {}", receiver_letter(index),
                              pass.works_anywhere ? "anywhere"
                              : pass.works_m      ? length_words(look, *pass.works_m)
                                                  : "nowhere");
    }
    ImGui::SetTooltip(
        "Net left: the share of the net this play leaves from each place on the puck line, the shot "
        "and\nevery pass weighed by how likely they come first. The band is the advised stretch, the "
        "square\nthe goalie in the game: %.0f %% left. Thin lines: what each pass would find open.%s",
        100.0 * view.decision.left, passes.c_str());
}

/// Where somebody stood on the graph, down to how far out.
void draw_place(const Look& look, ImDrawList* draw, ImVec2 at, float foot, ImU32 colour) {
    const float r = 0.28F * look.unit;
    draw->AddLine(at, {at.x, foot}, colour, look.pen(1.5F));
    draw->AddRectFilled({at.x - r, at.y - r}, {at.x + r, at.y + r}, colour, look.pen(2.0F));
    draw->AddRect({at.x - r, at.y - r}, {at.x + r, at.y + r}, look.colours.ground, look.pen(2.0F));
}

/// "you" and "game" each on the outer side of its mark, so that two near ones keep apart.
void draw_names(const Look& look, ImDrawList* draw, const Axes& axes, ImVec2 you, ImVec2 game) {
    const float beside = 0.45F * look.unit;
    const bool you_left = you.x < game.x;
    const auto name = [&](ImVec2 at, const char* words, bool to_left, ImU32 colour) {
        const ImVec2 size = text_size(look.strong, words);
        const float x = std::clamp(to_left ? at.x - beside - size.x : at.x + beside, axes.room.x,
                                   axes.room.x + axes.room.width - size.x);
        const float y =
            std::clamp(at.y - 0.9F * size.y, axes.room.y, axes.room.y + axes.room.height - size.y);
        draw_text(draw, look.strong, {x, y}, colour, words);
    };
    name(you, "you", you_left, look.colours.text);
    name(game, "game", !you_left, look.colours.rope);
}

/// The one main figure, and beside it the least there is; with an answer the one's and the game's.
void draw_head(const Look& look, ImDrawList* draw, const Rect& place, const Axes& axes, const Judged& view,
               const std::optional<GraphPlace>& you) {
    const Palette& c = look.colours;
    const double game = 100.0 * view.decision.left;
    const std::string head =
        you ? fmt::format("net left: you {:.0f} %, game {:.0f} %", 100.0 * you->left, game)
            : fmt::format("net left {:.0f} %", game);
    const std::string best = fmt::format("best {:.0f} %", 100.0 * view.decision.advice->left_best);
    ImFont* font = look.fact;
    for (ImFont* smaller : {look.heading, look.strong})
        if (text_size(font, head).x + text_size(font, best).x + look.unit > axes.room.width) font = smaller;
    const float y = place.y + 0.1F * look.unit + 0.5F * (look.fact->FontSize - font->FontSize);
    const float right = axes.room.x + axes.room.width;
    draw_text(draw, font, {axes.room.x, y}, c.text, head);
    draw_text(draw, font, {right - text_size(font, best).x, y}, c.save, best);
}

} // namespace

void draw_left_graph(const Look& look, ImDrawList* draw, const Rect& place, const Judged& view,
                     const LeftCurve& left, const std::optional<GraphPlace>& you) {
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
    draw_head(look, draw, place, axes, view, you);
    draw->AddRectFilled({axes.x(advice.from_m), top}, {axes.x(advice.to_m), foot}, faded(c.save, 0.30F));
    draw->PushClipRect({axes.room.x, top}, {axes.room.x + axes.room.width, foot + 1.0F}, true);
    draw_passes(look, draw, axes, left);
    draw_curve(
        draw, axes, left, [&](std::size_t place_at) { return left.places[place_at].left; }, c.text,
        look.pen(2.0F));
    draw->PopClipRect();
    draw_foot(look, draw, axes);
    const ImVec2 at{axes.x(view.decision.reading.depth_m), axes.y(view.decision.left)};
    draw_place(look, draw, at, foot, c.rope);
    if (you) {
        const ImVec2 mine{axes.x(you->out_m), axes.y(you->left)};
        draw_place(look, draw, mine, foot, c.text);
        draw_names(look, draw, axes, mine, at);
    }
    explain(look, place, view, left);
}

} // namespace ropeline
