// The rink from above: live positions while logging, landmarks to pick while fitting.
#include "desk/panels/plan.h"

#include "desk/panels/left_graph.h"

#include "rink/crease.h"
#include "rink/curves.h"
#include "rink/landmarks.h"
#include "rink/paint.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace ropeline {

namespace {

void draw_line(ImDrawList* draw, const PlanView& plan, const std::vector<IcePoint>& line, ImU32 colour,
               float width) {
    std::vector<ImVec2> screen;
    screen.reserve(line.size());
    for (const IcePoint at : line)
        screen.push_back(vec(plan.to_screen(at)));
    draw->AddPolyline(screen.data(), static_cast<int>(screen.size()), colour, ImDrawFlags_None, width);
}

void draw_ice(const Look& look, ImDrawList* draw, const PlanView& plan, const RuleBook& rules) {
    const Palette& c = look.colours;
    const auto outline = crease_outline(rules);
    std::vector<ImVec2> paint;
    for (const IcePoint at : outline)
        paint.push_back(vec(plan.to_screen(at)));
    draw->AddConvexPolyFilled(paint.data(), static_cast<int>(paint.size()), faded(c.blue_paint, 0.28F));
    for (const PaintLine& line : rink_paint(rules)) {
        const bool blue = line.kind == PaintKind::blue_line;
        const bool plain = line.kind == PaintKind::boards || line.kind == PaintKind::net;
        const float width = std::max(look.pen(1.0F), static_cast<float>(line.width_m * plan.scale()));
        draw_line(draw, plan, line.points,
                  faded(blue    ? c.blue_paint
                        : plain ? c.boards
                                : c.red_paint,
                        0.75F),
                  width);
    }
}

void draw_dashes(ImDrawList* draw, ImVec2 from, ImVec2 to, ImU32 colour, float width) {
    const float whole = std::hypot(to.x - from.x, to.y - from.y);
    const ImVec2 along{(to.x - from.x) / std::max(1.0F, whole), (to.y - from.y) / std::max(1.0F, whole)};
    for (float at = 0.0F; at < whole; at += 4.5F * width) {
        const float end = std::min(whole, at + 2.5F * width);
        draw->AddLine({from.x + along.x * at, from.y + along.y * at},
                      {from.x + along.x * end, from.y + along.y * end}, colour, width);
    }
}

void draw_marks(const Look& look, ImDrawList* draw, const PlanView& plan, const Moment& moment) {
    const Palette& c = look.colours;
    for (const Mark& mark : moment.marks) {
        if (!mark.ice) continue;
        const ImVec2 at = vec(plan.to_screen(*mark.ice));
        if (mark.kind == MarkKind::puck) {
            draw->AddCircleFilled(at, 0.26F * look.unit, c.text);
            draw->AddCircle(at, 0.26F * look.unit, c.ice);
        } else if (mark.kind == MarkKind::threat) {
            const float r = 0.28F * look.unit;
            draw->AddRect({at.x - r, at.y - r}, {at.x + r, at.y + r}, c.text, 0.0F, 0, look.pen(2.0F));
        }
    }
    if (const auto goalie = goalie_place(moment)) {
        const ImVec2 at = vec(plan.to_screen(*goalie));
        const float r = 0.34F * look.unit;
        draw->AddRectFilled({at.x - r, at.y - r}, {at.x + r, at.y + r}, c.rope, look.pen(2.0F));
        draw->AddRect({at.x - r, at.y - r}, {at.x + r, at.y + r}, c.ground, look.pen(2.0F));
    }
}

void draw_moment(const Look& look, ImDrawList* draw, const PlanView& plan, const Moment& moment,
                 const std::vector<IceLine>& lines) {
    const Palette& c = look.colours;
    for (const IceLine& line : lines) {
        switch (line.kind) {
        case IceLineKind::rope:
            draw_line(draw, plan, line.points, c.rope, look.pen(1.5F));
            break;
        case IceLineKind::puck_line:
            draw_line(draw, plan, line.points, faded(c.text, 0.5F), look.pen(1.0F));
            break;
        case IceLineKind::band:
            draw_line(draw, plan, line.points, c.bands[static_cast<int>(*line.band)], look.pen(5.0F));
            break;
        case IceLineKind::off_angle:
            draw_line(draw, plan, line.points, c.trouble, look.pen(2.0F));
            break;
        case IceLineKind::block:
            draw_line(draw, plan, line.points, c.text, look.pen(3.0F));
            break;
        case IceLineKind::pass:
            draw_line(draw, plan, line.points, c.save, look.pen(1.5F));
            break;
        case IceLineKind::lost_pass:
            draw_dashes(draw, vec(plan.to_screen(line.points.front())),
                        vec(plan.to_screen(line.points.back())), c.trouble, look.pen(2.0F));
            break;
        case IceLineKind::advised:
            draw_line(draw, plan, line.points, faded(c.save, 0.55F), look.pen(11.0F));
            break;
        case IceLineKind::advised_end:
            draw_line(draw, plan, line.points, c.save, look.pen(2.0F));
            break;
        case IceLineKind::opening:
            draw_line(draw, plan, line.points, c.trouble, look.pen(3.0F));
            break;
        case IceLineKind::shadow:
        case IceLineKind::depth:
        case IceLineKind::stance:
            break;
        }
    }
    draw_marks(look, draw, plan, moment);
}

bool overlap(const Rect& one, const Rect& other) {
    return one.x < other.x + other.width && other.x < one.x + one.width && one.y < other.y + other.height &&
           other.y < one.y + one.height;
}

Rect inside(const Rect& panel, Rect one) {
    one.x = std::clamp(one.x, panel.x, std::max(panel.x, panel.x + panel.width - one.width));
    one.y = std::clamp(one.y, panel.y, std::max(panel.y, panel.y + panel.height - one.height));
    return one;
}

/// Over the place, else under it, to its right or its left: the first where nothing stands yet.
Rect beside(const Look& look, const Rect& panel, ImVec2 at, ImVec2 size, const std::vector<Rect>& taken) {
    const float off = 0.4F * look.unit, middle_x = at.x - 0.5F * size.x, middle_y = at.y - 0.5F * size.y;
    const Rect tries[] = {{middle_x, at.y - off - size.y, size.x, size.y},
                          {middle_x, at.y + off, size.x, size.y},
                          {at.x + off, middle_y, size.x, size.y},
                          {at.x - off - size.x, middle_y, size.x, size.y}};
    for (const Rect& one : tries) {
        const Rect place = inside(panel, one);
        const float air = 0.12F * look.unit; // a line of text is lower than its height
        const Rect ink{place.x, place.y + air, place.width, place.height - 2.0F * air};
        if (std::ranges::none_of(taken, [&](const Rect& other) { return overlap(other, ink); })) return place;
    }
    return inside(panel, tries[0]);
}

/// Beside each receiver his letter and how late the goalie is, clear of goalie, puck and each other.
void draw_receivers(const Look& look, ImDrawList* draw, const PlanView& plan, const Judged& view) {
    const Palette& c = look.colours;
    const float edge = 0.5F * look.unit; // a window is clipped a little inside its edge
    const Rect room{plan.panel.x + edge, plan.panel.y, plan.panel.width - 2.0F * edge, plan.panel.height};
    std::vector<Rect> taken;
    std::vector<IcePoint> marks{view.asked.moment.stance.goalie, view.asked.moment.puck};
    for (const Threat& threat : view.asked.threats)
        marks.push_back(threat.at);
    for (const IcePoint mark : marks) {
        const ImVec2 at = vec(plan.to_screen(mark));
        const float r = 0.3F * look.unit;
        taken.push_back({at.x - r, at.y - r, 2.0F * r, 2.0F * r});
    }
    for (std::size_t index = 0; index < view.asked.threats.size(); ++index) {
        const ThreatReading& pass = view.decision.threats[index];
        const std::string words =
            fmt::format("{} {}", static_cast<char>('a' + index % 26), in_time_words(pass));
        const ImVec2 size = text_size(look.body, words);
        const float pad = 0.2F * look.unit;
        const Rect place = beside(look, room, vec(plan.to_screen(view.asked.threats[index].at)),
                                  {size.x + 2.0F * pad, size.y}, taken);
        taken.push_back(place);
        const float air = 0.12F * look.unit;
        draw->AddRectFilled({place.x, place.y + air}, {place.x + place.width, place.y + place.height - air},
                            faded(c.ice, 0.85F), pad);
        draw_text(draw, look.body, {place.x + pad, place.y}, pass.late_s > 0.0 ? c.trouble : c.text, words);
    }
}

/// Dragging the goalie asks what if he had stood there.
void try_places(const Look& look, const PlanView& plan, const Moment& moment, std::optional<IcePoint>& tried,
                bool& trying) {
    trying = false;
    const auto goalie = goalie_place(moment);
    if (!goalie || !moment.reading) return;
    const ImVec2 at = vec(plan.to_screen(*goalie));
    const float reach = 0.8F * look.unit;
    ImGui::SetCursorScreenPos({at.x - reach, at.y - reach});
    ImGui::InvisibleButton("goalie", {2.0F * reach, 2.0F * reach});
    if (ImGui::IsItemHovered() && !ImGui::IsItemActive() && !tried)
        ImGui::SetTooltip(
            "%s",
            with_keys("Drag him: what if he had stood there? [keep_tried] keeps it, [put_down] goes back.")
                .c_str());
    if (!ImGui::IsItemActive() || !ImGui::IsMouseDragging(ImGuiMouseButton_Left, 2.0F)) return;
    trying = true;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    tried = plan.to_ice({mouse.x, mouse.y});
}

/// The plan as large as the play allows; the goalie, who is dragged about on it, has no say in that.
PlanView view_of(const Rect& place, const std::optional<Moment>& moment) {
    std::vector<IcePoint> places;
    if (moment) {
        for (const Mark& mark : moment->marks)
            if (mark.ice && (mark.kind == MarkKind::puck || mark.kind == MarkKind::threat))
                places.push_back(*mark.ice);
    }
    return plan_of_play(place, places);
}

/// The graph of net left takes the plan's foot when there is one.
std::pair<Rect, Rect> plan_and_graph(const Look& look, const Rect& place, const TurnView& view) {
    const float tall = view.left ? std::min(5.2F * look.unit, 0.36F * place.height) : 0.0F;
    return {{place.x, place.y, place.width, place.height - tall},
            {place.x, place.y + place.height - tall, place.width, tall}};
}

} // namespace

void draw_plan(const Panel& panel, LogPart& part) {
    const Look& look = panel.look;
    begin_panel("plan", panel.place, look.colours.ice);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const auto [room, graph] = plan_and_graph(look, panel.place, part.view);
    const PlanView plan = view_of(room, part.view.moment);
    draw->PushClipRect(corner(room), far_corner(room), true);
    draw_ice(look, draw, plan, rule_book(part.view.rules));
    if (const auto& moment = part.view.moment) {
        draw_moment(look, draw, plan, *moment, part.view.lines);
        if (part.view.judged) draw_receivers(look, draw, plan, *part.view.judged);
        try_places(look, plan, *moment, part.tried, part.trying);
    } else {
        part.trying = false;
    }
    draw->PopClipRect();
    if (part.view.left) draw_left_graph(look, draw, graph, *part.view.judged, *part.view.left);
    ImGui::End();
}

void draw_study_plan(const Panel& panel, const LogPart& part, const StudyTurn& turn) {
    const Look& look = panel.look;
    begin_panel("study plan", panel.place, look.colours.ice);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const auto& moment = part.view.moment;
    const bool answered = turn.phase == StudyPhase::answer;
    const auto [under_graph, graph] = plan_and_graph(look, panel.place, part.view);
    const PlanView plan = view_of(answered ? under_graph : panel.place, moment);
    draw->PushClipRect(corner(plan.panel), far_corner(plan.panel), true);
    draw_ice(look, draw, plan, rule_book(part.view.rules));
    if (moment && answered) {
        draw_moment(look, draw, plan, *moment, part.view.lines);
        if (part.view.judged) draw_receivers(look, draw, plan, *part.view.judged);
    } else if (moment && turn.phase != StudyPhase::run_up) {
        Moment play = *moment;
        std::erase_if(play.marks, [](const Mark& mark) {
            return mark.kind != MarkKind::puck && mark.kind != MarkKind::threat;
        });
        draw_marks(look, draw, plan, play);
    }
    if (turn.place) {
        const ImVec2 at = vec(plan.to_screen(*turn.place));
        const float r = 0.45F * look.unit;
        draw->AddCircle(at, r, look.colours.text, 0, look.pen(2.5F));
        draw_text(draw, look.strong, {at.x + 1.3F * r, at.y - 0.5F * look.unit}, look.colours.text, "you");
    }
    if (turn.phase == StudyPhase::place && ImGui::IsWindowHovered()) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        const ImVec2 mouse = ImGui::GetIO().MousePos;
        draw->AddCircle(mouse, 0.45F * look.unit, look.colours.rope, 0, look.pen(2.0F));
        if (ImGui::IsMouseClicked(ImGuiMouseButton_Left))
            panel.actions.push_back(CallPlace{plan.to_ice({mouse.x, mouse.y})});
    }
    draw->PopClipRect();
    if (answered && part.view.left) draw_left_graph(look, draw, graph, *part.view.judged, *part.view.left);
    ImGui::End();
}

namespace {

/// Curves that are offered or carry clicks, and where on them the clicks lie.
void draw_fit_curves(const Look& look, ImDrawList* draw, const PlanView& plan, const FitDraft& fit) {
    const Palette& c = look.colours;
    for (const IceCurve& curve : ice_curves(rule_book(fit.rules))) {
        const bool clicked = clicks_on(fit, curve.name) > 0;
        if (clicked) {
            draw_line(draw, plan, places_along(curve), faded(c.save, 0.35F), 0.9F * look.unit);
            draw_line(draw, plan, places_along(curve), faded(c.save, 0.75F), 0.25F * look.unit);
        }
        if (curve.name == fit.offered) draw_line(draw, plan, places_along(curve), c.rope, 0.25F * look.unit);
    }
    for (const StoredLandmark& click : fit.clicks) {
        const auto place = !click.point && fit.fit ? ice_at(*fit.fit, click.at) : std::nullopt;
        if (!place) continue;
        const ImVec2 at = vec(plan.to_screen(*place));
        draw->AddCircleFilled(at, 0.32F * look.unit, c.save);
        draw->AddCircle(at, 0.32F * look.unit, c.ice);
    }
}

void draw_fit_landmarks(const Look& look, ImDrawList* draw, const PlanView& plan, const FitDraft& fit) {
    const Palette& c = look.colours;
    for (const Landmark& landmark : landmarks(rule_book(fit.rules))) {
        const ImVec2 at = vec(plan.to_screen(landmark.at));
        if (!plan.panel.holds({at.x, at.y})) continue;
        const float r = 0.2F * look.unit;
        if (landmark.name == fit.offered) {
            draw->AddCircle(at, 3.0F * r, c.rope, 0, look.pen(2.5F));
            draw->AddCircleFilled(at, r, c.rope);
        } else if (clicks_on(fit, landmark.name) > 0) {
            draw->AddRectFilled({at.x - 1.3F * r, at.y - 1.3F * r}, {at.x + 1.3F * r, at.y + 1.3F * r},
                                c.save);
            draw->AddRect({at.x - 1.3F * r, at.y - 1.3F * r}, {at.x + 1.3F * r, at.y + 1.3F * r}, c.ice);
        } else {
            draw->AddCircle(at, r, faded(c.text, 0.55F), 0, look.pen(1.0F));
        }
    }
}

std::string plan_words(const FitDraft& fit, const std::string& name) {
    const auto clicks = clicks_on(fit, name);
    std::string words = label_of(rule_book(fit.rules), name);
    if (find_curve(rule_book(fit.rules), name)) words = "anywhere on the " + words;
    if (clicks == 1) words += ", clicked";
    if (clicks > 1) words += ", " + std::to_string(clicks) + " clicks";
    return words;
}

} // namespace

void draw_fit_plan(const Panel& panel, const FitDraft& fit) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    begin_panel("fit plan", panel.place, c.ice);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    PlanView plan;
    plan.panel = panel.place;
    const RuleBook& rules = rule_book(fit.rules);
    draw_ice(look, draw, plan, rules);

    draw_fit_curves(look, draw, plan, fit);
    draw_fit_landmarks(look, draw, plan, fit);
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const auto under =
        ImGui::IsWindowHovered() ? pick_on_plan(fit, plan, {mouse.x, mouse.y}, look.unit) : std::nullopt;
    if (under) {
        if (const auto curve = find_curve(rules, *under)) {
            draw_line(draw, plan, places_along(*curve), faded(c.text, 0.7F), 0.3F * look.unit);
        } else if (const auto landmark = find_landmark(rules, *under)) {
            draw->AddCircle(vec(plan.to_screen(landmark->at)), 0.5F * look.unit, c.text, 0, look.pen(2.0F));
        }
        ImGui::SetTooltip("%s", plan_words(fit, *under).c_str());
        if (ImGui::IsMouseClicked(ImGuiMouseButton_Left)) panel.actions.push_back(OfferLandmark{*under});
    }
    ImGui::End();
}

} // namespace ropeline
