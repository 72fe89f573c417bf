// What the puck sees, the verdict with what it rests on, and each pass that could come; the overruling of it.
#include "desk/panels/decision.h"

#include "desk/choices.h"
#include "desk/panels/puck_eye.h"
#include "desk/panels/reading.h"
#include "desk/panels/shot_card.h"
#include "desk/side.h"
#include "desk/state/seen_twice.h"
#include "sheet/ice_drawing.h"

#include <fmt/core.h>
#include <fmt/format.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

/// The pass that matters most, which is said of its receiver in the table of passes beside the verdict.
bool stands_beside(const Judged& view, const std::string& figure) {
    return std::ranges::any_of(view.asked.threats, [&](const Threat& threat) {
        return figure.starts_with(name_of(threat, view.asked.moment.puck) + ":");
    });
}

/// The verdict in one line that anybody understands; under it the depth against the advice, then all else that it
/// rests on in one run of text, so that it has room on a low screen.
void draw_verdict_words(const Look& look, const Moment& moment, const Judged& view, bool tried,
                        bool firmness_known) {
    const Palette& c = look.colours;
    const bool overruled = !tried && moment.overruled;
    const Verdict shown = overruled ? *moment.overruled : view.decision.verdict;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_verdict(ImGui::GetWindowDrawList(), {at.x + 0.6F * look.unit, at.y + 0.7F * look.unit},
                 1.1F * look.unit, shown, c);
    ImGui::SetCursorScreenPos({at.x + 1.6F * look.unit, at.y});
    ImGui::PushTextWrapPos(0.0F);
    const std::string headline = overruled ? std::string{label_of(shown)} : view.headline;
    const bool fits = text_size(look.heading, headline).x < ImGui::GetContentRegionAvail().x;
    text_in(fits ? look.heading : look.strong, c.text, headline);
    if (overruled) {
        const std::string why = moment.overrule_reason.empty() ? "no reason given" : moment.overrule_reason;
        text_in(look.strong, c.rope, fmt::format("Your verdict: {}. The model: {}", why, view.headline));
    }
    if (tried) {
        text_in(look.strong, c.rope,
                with_keys("Tried on the plan, kept nowhere: [keep_tried] keeps it, [put_down] goes back."));
    }
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2{0.3F * look.unit, 0.15F * look.unit});
    if (!view.figures.empty()) text_in(look.body, c.text, view.figures.front());
    std::vector<std::string> rest;
    for (std::size_t index = 1; index < view.figures.size(); ++index)
        if (!stands_beside(view, view.figures[index])) rest.push_back(view.figures[index]);
    if (!firmness_known) rest.emplace_back("how firm that is follows …");
    text_in(look.body, c.quiet, fmt::format("{}", fmt::join(rest, "; ")));
    ImGui::PopStyleVar();
    ImGui::PopTextWrapPos();
}

/// The one main figure of a decision.
void draw_net_left(const Look& look, const Decision& decision) {
    if (!decision.advice) return;
    text_in(look.heading, look.colours.text, fmt::format("net left {:.0f} %", 100.0 * decision.left));
    if (ImGui::IsItemHovered())
        ImGui::SetTooltip("The share of the net this play leaves open, shot and passes weighed by how likely "
                          "each comes first.");
    ImGui::SameLine(0.0F, look.unit);
    text_in(look.heading, look.colours.save,
            fmt::format("best {:.0f} %", 100.0 * decision.advice->left_best));
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("The least that any place on the puck line leaves.");
}

std::string pass_name(const Threat& threat, std::size_t index) {
    return fmt::format("{} {}{}{}", receiver_letter(index), label_of(threat.kind),
                       threat.lane == Lane::contested ? ", contested" : "", threat.took ? ", got it" : "");
}

/// "if passed to A: 7 % open, works to 1.20 m"
std::string open_words(ReceiverKind kind, std::size_t index, const ThreatReading& pass,
                       const LeftCurve::Pass* along, LengthUnit unit) {
    const std::string open =
        fmt::format("if {} {}: {:.0f} % open", kind == ReceiverKind::tip ? "tipped by" : "passed to",
                    receiver_letter(index), 100.0 * pass.open_on_arrival);
    if (!along) return open;
    if (along->works_anywhere) return open + ", works anywhere";
    return along->works_m ? fmt::format("{}, works to {}", open, in_figures(*along->works_m, unit))
                          : open + ", works nowhere";
}

void explain_pass(const Look& look, const Threat& threat, const ThreatReading& pass,
                  const Parameters& parameters, Side side) {
    const bool tip = threat.kind == ReceiverKind::tip;
    ImGui::SetTooltip(
        "%s takes %.2f s at %s%s. On the receiver's line: %s.\n"
        "Open: of the net at the receiver's shot, neither hidden nor reached. Works to: the "
        "furthest out,\non the puck line, from which the goalie is on the receiver's line "
        "before the shot leaves.\n"
        "Taken to come first: %.0f in 100.\n%s",
        tip ? "The shot" : "The pass", pass.pass_s,
        speed_words(look, tip ? parameters.shot_speed_mps : parameters.pass_speed_mps).c_str(),
        tip ? " and is turned at once" : fmt::format(", the shot leaves after {:.2f} s", pass.have_s).c_str(),
        in_time_words(pass).c_str(), 100.0 * pass.chance,
        side == Side::study
            ? ""
            : with_keys("[how_he_shoots]: how the receiver shoots, [pass_lane]: lane open or contested, "
                        "[took_pass]: this one got it, [remove]: "
                        "takes the receiver away.")
                  .c_str());
}

/// Two lines a pass: who and what kind of shot, in time or how late; what it finds open, how far out it works from. What a
/// pass is logged by is said on the Log side only.
void draw_passes(const Panel& panel, const LogState& log, const TurnView& turn, Side side) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    const Judged& view = *turn.judged;
    if (view.asked.threats.empty()) {
        wrapped_text(
            side == Side::study
                ? "Nobody to pass to was marked here."
                : "No receiver is logged. [mark_threat] marks an opponent a pass could reach: what that pass "
                  "leaves open is then weighed too.",
            c.quiet);
        return;
    }
    const auto in_hand = held_mark(log);
    for (std::size_t index = 0; index < view.asked.threats.size(); ++index) {
        const Threat& threat = view.asked.threats[index];
        const ThreatReading& pass = view.decision.threats[index];
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float wide = ImGui::GetContentRegionAvail().x;
        ImGui::PushID(static_cast<int>(index));
        const bool clicked =
            ImGui::Selectable("##pass", in_hand == view.asked.marks[index], 0, {wide, 2.5F * look.unit});
        if (clicked && side == Side::log) panel.actions.push_back(HoldMark{view.asked.marks[index]});
        ImGui::PopID();
        if (ImGui::IsItemHovered()) explain_pass(look, threat, pass, turn.parameters, side);
        ImDrawList* draw = ImGui::GetWindowDrawList();
        const std::string when = in_time_words(pass);
        const float left = wide - text_size(look.strong, when).x - 0.2F * look.unit;
        draw_text(draw, look.body, at, c.text, shortened(look.body, pass_name(threat, index), left));
        draw_text(draw, look.strong, {at.x + left, at.y}, pass.late_s > 0.0 ? c.trouble : c.text, when);
        const std::string open = open_words(threat.kind, index, pass,
                                            turn.left ? &turn.left->passes[index] : nullptr, look.lengths);
        draw_text(draw, look.body, {at.x + 0.9F * look.unit, at.y + 1.2F * look.unit}, c.quiet,
                  shortened(look.body, open, wide - look.unit));
    }
}

/// As wide as its widest line; what is left goes to the verdict.
float width_of_passes(const Look& look, const TurnView& turn, float most) {
    const Judged& view = *turn.judged;
    if (view.asked.threats.empty()) return std::min(12.0F * look.unit, most);
    float wide = 0.0F;
    for (std::size_t index = 0; index < view.asked.threats.size(); ++index) {
        const ThreatReading& pass = view.decision.threats[index];
        const std::string open = open_words(view.asked.threats[index].kind, index, pass,
                                            turn.left ? &turn.left->passes[index] : nullptr, look.lengths);
        wide = std::max({wide, text_size(look.body, open).x + 1.2F * look.unit,
                         text_size(look.body, pass_name(view.asked.threats[index], index)).x +
                             text_size(look.strong, in_time_words(pass)).x + 1.2F * look.unit});
    }
    return std::min(wide + look.unit, most); // the scroll bar of many passes
}

void draw_overrule(const Panel& panel, const Moment& moment, const Judged& view, OverruleForm& form) {
    const Look& look = panel.look;
    text_in(look.heading, look.colours.text, "Your verdict");
    wrapped_text(fmt::format("The model's, {}, is kept beside it.", label_of(view.decision.verdict)),
                 look.colours.quiet);
    if (!form.written && !ImGui::IsAnyItemActive()) ImGui::SetKeyboardFocusHere();
    ImGui::SetNextItemWidth(-1.0F);
    if (ImGui::InputTextWithHint("##why", "1 to 7 choose at once; or write why first, then Enter",
                                 &form.reason, ImGuiInputTextFlags_EnterReturnsTrue)) {
        form.written = true;
    }
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    for (std::size_t index = 0; index < reviewer_verdicts.size(); ++index) {
        const Verdict verdict = reviewer_verdicts.at(index);
        const std::string key = std::to_string(index + 1);
        if (index > 0) wrap_chip(look, key, label_of(verdict), right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(look, "verdict", key, label_of(verdict), moment.overruled == verdict, number_chooses(form)))
            overrule_verdict(form, panel.actions, verdict);
        ImGui::PopID();
    }
    if (moment.overruled) {
        wrap_chip(look, "", "let the model's stand", right);
        if (chip(look, "model", "", "let the model's stand", false, false))
            overrule_verdict(form, panel.actions, std::nullopt);
    }
}

/// A thin line with some air about it.
void draw_rule(const Look& look) {
    ImGui::Dummy({1.0F, 0.2F * look.unit});
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddLine(at, {at.x + ImGui::GetContentRegionAvail().x, at.y},
                                        look.colours.edge, look.pen(1.0F));
    ImGui::Dummy({1.0F, 0.3F * look.unit});
}

std::string place_words(const Look& look, IcePoint at, const std::optional<double>& sigma_m) {
    const std::string place =
        fmt::format("{} {}, {} {}", length_words(look, std::abs(at.x_m)), at.x_m < 0.0 ? "left" : "right",
                    length_words(look, std::abs(at.y_m)), at.y_m < 0.0 ? "behind" : "out");
    return sigma_m ? fmt::format("{} {}", place, spread_words(look, *sigma_m)) : place;
}

/// A moment again, seen by a second camera: each place by both, and how far they lie apart.
void draw_second_view(const Look& look, const LogState& log) {
    const Palette& c = look.colours;
    text_in(look.strong, c.text, "The same moment, by a second camera");
    ImGui::SameLine(0.0F, 0.8F * look.unit);
    quiet_text(look,
               "from the middle of the net, ± one standard deviation; the verdict is the first camera's");
    const auto [first, second] = both_views(log);
    const auto compared = first ? seen_twice(*first, *second) : std::vector<SeenTwice>{};
    if (compared.empty()) {
        wrapped_text(
            "Fit the rink on this film and mark goalie and puck: both cameras' places then stand here.",
            c.quiet);
    } else if (ImGui::BeginTable("views", 5, ImGuiTableFlags_SizingFixedFit)) {
        for (const char* title : {"##what", "first camera", "this camera", "apart", "##agree"})
            ImGui::TableSetupColumn(title);
        ImGui::TableHeadersRow();
        for (const SeenTwice& one : compared) {
            ImGui::TableNextRow();
            ImGui::TableNextColumn();
            quiet_text(look, one.what);
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(place_words(look, one.first, one.first_sigma_m).c_str());
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(place_words(look, one.second, one.second_sigma_m).c_str());
            ImGui::TableNextColumn();
            text_in(look.strong, c.text, length_words(look, one.apart_m));
            ImGui::TableNextColumn();
            text_in(look.body, one.agree == false ? c.rope : c.quiet, agreement_words(one));
        }
        ImGui::EndTable();
    }
}

} // namespace

void draw_decision(const Panel& panel, const LogPart& part) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const LogState& log = part.state();
    begin_panel("decision", place, look.colours.panel);
    const Moment* moment = moment_in_hand(log);
    const auto& view = part.view.judged;
    if (!view || !moment) return ImGui::End();
    const float eye_words = text_size(look.strong, "standing still: 100 % open").x + 1.1F * look.unit;
    const float eye_width = std::min({1.35F * place.height, eye_words, 0.18F * place.width});
    draw_puck_eye(look, ImGui::GetWindowDrawList(), {place.x, place.y, eye_width, place.height},
                  view->asked.moment.stance, view->asked.moment.puck, rule_book(rules_for(log, *moment)),
                  part.view.parameters);
    const float passes_width = width_of_passes(look, part.view, 0.38F * place.width);
    const float gap = 0.8F * look.unit;
    const float tall = place.height - 0.35F * look.unit - ImGui::GetStyle().WindowPadding.y - 1.0F;
    ImGui::SetCursorScreenPos({place.x + eye_width + gap, place.y + 0.35F * look.unit});
    ImGui::BeginChild("verdict", {place.width - eye_width - passes_width - 3.0F * gap, tall});
    text_in(look.strong, look.colours.text, "In the game");
    draw_verdict_words(look, *moment, *view, part.tried.has_value(), part.view.firmness_known);
    ImGui::EndChild();
    ImGui::SetCursorScreenPos({place.x + place.width - passes_width - gap, place.y + 0.35F * look.unit});
    ImGui::BeginChild("passes", {passes_width, tall});
    draw_passes(panel, log, part.view, Side::study);
    ImGui::EndChild();
    ImGui::End();
}

void draw_unfolded(const Panel& panel, const LogPart& part, Pages& pages) {
    const Look& look = panel.look;
    const LogState& log = part.state();
    begin_panel("unfolded", panel.place, look.colours.panel, it_scrolls);
    const ShotEntry* entry = chosen_shot(log);
    const Moment* moment = moment_in_hand(log);
    const auto& view = part.view.judged;
    if (!entry) return ImGui::End();
    if (pages.overrule.open && moment && view) {
        draw_overrule(panel, *moment, *view, pages.overrule);
        ImGui::Spacing();
    }
    draw_whole_card(panel, log, *entry, pages.card);
    draw_rule(look);
    if (moment && !is_step(*moment)) draw_second_view(look, log);
    if (moment && view) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const ImVec2 eye{std::min(0.42F * ImGui::GetContentRegionAvail().x, 17.0F * look.unit),
                         9.0F * look.unit};
        draw_puck_eye(look, ImGui::GetWindowDrawList(), {at.x, at.y, eye.x, eye.y}, view->asked.moment.stance,
                      view->asked.moment.puck, rule_book(rules_for(log, *moment)), part.view.parameters);
        ImGui::SetCursorScreenPos({at.x + eye.x + 0.8F * look.unit, at.y});
        ImGui::BeginGroup();
        draw_figures(look, part);
        ImGui::EndGroup();
        ImGui::SetCursorScreenPos(
            {at.x, std::max(ImGui::GetCursorScreenPos().y, at.y + eye.y + 0.5F * look.unit)});
        draw_rule(look);
        draw_net_left(look, view->decision);
        draw_verdict_words(look, *moment, *view, part.tried.has_value(), part.view.firmness_known);
        draw_rule(look);
        draw_passes(panel, log, part.view, Side::log);
    } else {
        draw_figures(look, part);
    }
    ImGui::End();
}

} // namespace ropeline
