// The rink from above while it is fitted: landmarks and lines to pick.
#include "desk/panels/plan.h"

#include "desk/panels/plan_ice.h"

#include "rink/curves.h"
#include "rink/landmarks.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace ropeline {

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

/// As far as the film is known: by this fit, by the one that is proposed, or by another of the film.
NetAt net_as_it_lies(const FitDraft& fit, const TurnView& view) {
    if (fit.fit) return plan_net_of(*fit.fit);
    if (fit.proposed) return plan_net_of(*fit.proposed);
    return view.here.fit ? plan_net_of(*view.here.fit) : NetAt::bottom;
}

/// Behind the net: all that is named left and right is so as seen from there.
void draw_clicked_end(const Look& look, ImDrawList* draw, const PlanView& plan) {
    constexpr double behind_m = 2.6;
    const ImVec2 at = vec(plan.to_screen({0.0, -behind_m})),
                 ahead = vec(plan.to_screen({0.0, -behind_m + 1.0}));
    const ImVec2 along{ahead.x - at.x, ahead.y - at.y};
    const ImU32 ink = faded(look.colours.rope, 0.9F);
    draw->AddTriangleFilled({at.x + along.x, at.y + along.y}, {at.x - 0.7F * along.y, at.y + 0.7F * along.x},
                            {at.x + 0.7F * along.y, at.y - 0.7F * along.x}, ink);
    const char* words = "this end";
    const ImFont* font = look.body;
    const ImVec2 room = font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, words);
    // Behind the arrow, and inside the plan.
    const float metre = std::hypot(along.x, along.y);
    const float behind =
        0.3F + 0.5F * (std::abs(along.x) * room.x + std::abs(along.y) * room.y) / (metre * metre);
    ImVec2 from{at.x - 0.5F * room.x - behind * along.x, at.y - 0.5F * room.y - behind * along.y};
    from.x = std::clamp(from.x, plan.panel.x, plan.panel.x + plan.panel.width - room.x);
    from.y = std::clamp(from.y, plan.panel.y, plan.panel.y + plan.panel.height - room.y);
    draw->AddText(font, font->FontSize, from, ink, words);
}

} // namespace

void draw_fit_plan(const Panel& panel, const FitDraft& fit, const TurnView& view) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    begin_panel("fit plan", panel.place, c.ice);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    PlanView plan;
    plan.panel = panel.place;
    plan.net = net_as_it_lies(fit, view);
    const RuleBook& rules = rule_book(fit.rules);
    draw_ice(look, draw, plan, rules);

    draw_clicked_end(look, draw, plan);
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
