// Under the film: what the puck sees, the verdict with its reason, and what each pass would have cost.
#include "desk/panels/decision.h"

#include "desk/choices.h"
#include "desk/panels/puck_eye.h"
#include "desk/state/seen_twice.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

void draw_verdict_words(const Look& look, const Moment& moment, const Judged& view, bool tried) {
    const Palette& c = look.colours;
    const Verdict shown = tried ? view.decision.verdict : moment.overruled.value_or(view.decision.verdict);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_verdict(ImGui::GetWindowDrawList(), {at.x + 0.6F * look.unit, at.y + 0.7F * look.unit},
                 1.1F * look.unit, shown, c);
    ImGui::SetCursorScreenPos({at.x + 1.6F * look.unit, at.y});
    text_in(look.heading, c.text, label_of(shown));
    ImGui::SameLine(0.0F, 0.8F * look.unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    const double error = view.decision.depth_error_m;
    quiet_text(look, fmt::format("{:.2f} m out, advised {:.2f} m ({}{:.2f})", view.decision.reading.depth_m,
                                 view.decision.advice.depth_m, error < 0.0 ? "−" : "+", std::abs(error)));
    ImGui::PushTextWrapPos(0.0F);
    if (tried) {
        text_in(look.strong, c.rope,
                with_keys("Tried on the plan, kept nowhere: [keep_tried] keeps it, [put_down] goes back."));
    } else if (moment.overruled) {
        const std::string why = moment.overrule_reason.empty() ? "no reason given" : moment.overrule_reason;
        text_in(look.strong, c.rope,
                fmt::format("Overruled, the model says {}: {}", label_of(view.decision.verdict), why));
    }
    text_in(look.body, c.text, view.reason);
    text_in(look.body, c.quiet, view.advice);
    ImGui::PopTextWrapPos();
}

/// One line a pass: who, how he shoots, the time left over, how far out it still could be reached.
void draw_passes(const Panel& panel, const LogState& log, const Judged& view) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    if (view.asked.threats.empty()) {
        wrapped_text(
            "No opponent is marked for a pass. [mark_threat] marks one: his pass then limits the depth.",
            c.quiet);
        return;
    }
    if (!ImGui::BeginTable("passes", 4, ImGuiTableFlags_SizingFixedFit)) return;
    for (const char* title : {"pass to", "time left", "from", "covered"})
        ImGui::TableSetupColumn(title);
    ImGui::TableHeadersRow();
    const auto in_hand = held_mark(log);
    for (std::size_t index = 0; index < view.asked.threats.size(); ++index) {
        const Threat& threat = view.asked.threats[index];
        const ThreatReading& pass = view.decision.threats[index];
        const bool held = in_hand == view.asked.marks[index];
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        const std::string name =
            fmt::format("{} {}{}##{}", static_cast<char>('a' + index % 26),
                        threat.one_timer ? "one-timer" : "catch", threat.open ? "" : ", blocked", index);
        if (ImGui::Selectable(name.c_str(), held, ImGuiSelectableFlags_SpanAllColumns))
            panel.actions.push_back(HoldMark{view.asked.marks[index]});
        if (ImGui::IsItemHovered()) {
            ImGui::SetTooltip(
                "The pass takes %.2f s at %.0f m/s, the shot leaves after %.2f s; the goalie needs "
                "%.2f s.\nY one-timer or not, B lane open or blocked, Delete removes.",
                pass.pass_s, log.season.parameters.pass_speed_mps, pass.have_s, pass.need_s);
        }
        ImGui::TableNextColumn();
        text_in(look.strong, pass.margin_s < 0.0 ? c.trouble : c.text,
                fmt::format("{}{:.2f} s{}", pass.margin_s < 0.0 ? "−" : "+", std::abs(pass.margin_s),
                            pass.margin_s < 0.0 ? " late" : ""));
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(pass.reach_depth_m ? fmt::format("{:.2f} m", *pass.reach_depth_m).c_str()
                                                  : "any depth");
        if (ImGui::IsItemHovered()) ImGui::SetTooltip("The furthest out that still reaches this pass.");
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(pass.coverage_on_arrival
                                   ? fmt::format("{:.0f} %", 100.0 * *pass.coverage_on_arrival).c_str()
                                   : "–");
        if (ImGui::IsItemHovered()) ImGui::SetTooltip("Of the receiver's net angle, when his shot leaves.");
    }
    ImGui::EndTable();
}

void draw_overrule(const Panel& panel, const Moment& moment, const Judged& view, OverruleForm& form) {
    const Look& look = panel.look;
    text_in(look.heading, look.colours.text, "Your verdict");
    ImGui::SameLine(0.0F, 0.8F * look.unit);
    quiet_text(look, fmt::format("the model's, {}, is kept beside it", label_of(view.decision.verdict)));
    if (!form.written && !ImGui::IsAnyItemActive()) ImGui::SetKeyboardFocusHere();
    ImGui::SetNextItemWidth(-1.0F);
    if (ImGui::InputTextWithHint("##why", "why; Enter, then the number of your verdict", &form.reason,
                                 ImGuiInputTextFlags_EnterReturnsTrue)) {
        form.written = true;
    }
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowWidth() - look.unit;
    for (std::size_t index = 0; index < reviewer_verdicts.size(); ++index) {
        const Verdict verdict = reviewer_verdicts.at(index);
        const std::string key = std::to_string(index + 1);
        if (index > 0) wrap_chip(look, key, label_of(verdict), right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(look, "verdict", key, label_of(verdict), moment.overruled == verdict, form.written))
            overrule_verdict(form, panel.actions, verdict);
        ImGui::PopID();
    }
    if (moment.overruled) {
        wrap_chip(look, "", "let the model's stand", right);
        if (chip(look, "model", "", "let the model's stand", false, false))
            overrule_verdict(form, panel.actions, std::nullopt);
    }
}

std::string place_words(IcePoint at, const std::optional<double>& sigma_m) {
    const std::string place =
        fmt::format("{:.2f} m {}, {:.2f} m {}", std::abs(at.x_m), at.x_m < 0.0 ? "left" : "right",
                    std::abs(at.y_m), at.y_m < 0.0 ? "behind" : "out");
    return sigma_m ? fmt::format("{} ± {:.2f}", place, *sigma_m) : place;
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
            ImGui::TextUnformatted(place_words(one.first, one.first_sigma_m).c_str());
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(place_words(one.second, one.second_sigma_m).c_str());
            ImGui::TableNextColumn();
            text_in(look.strong, c.text, metres(one.apart_m));
            ImGui::TableNextColumn();
            text_in(look.body, one.agree == false ? c.rope : c.quiet, agreement_words(one));
        }
        ImGui::EndTable();
    }
}

/// Without a decision: what a second camera saw, or what is to come here.
void draw_no_decision(const Panel& panel, const LogState& log) {
    const Look& look = panel.look;
    const Moment* moment = moment_in_hand(log);
    if (moment && !is_step(*moment)) return draw_second_view(look, log);
    text_in(look.strong, look.colours.quiet, "Decision");
    wrapped_text("What the puck saw, how far out was right and what a pass would have cost appear here once "
                 "goalie and puck are marked on a fitted rink.",
                 look.colours.faint);
}

} // namespace

void draw_decision(const Panel& panel, const LogPart& part, OverruleForm& form) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const LogState& log = part.state();
    begin_panel("decision", place, look.colours.panel);
    const Moment* moment = moment_in_hand(log);
    const auto& view = part.view.judged;
    if (!view) {
        draw_no_decision(panel, log);
        ImGui::End();
        return;
    }
    const float eye_width = 1.35F * place.height;
    draw_puck_eye(look, ImGui::GetWindowDrawList(), {place.x, place.y, eye_width, place.height},
                  view->asked.moment.stance, view->asked.moment.puck, rule_book(rules_for(log, *moment)),
                  log.season.parameters);
    const float passes_width = std::min(20.0F * look.unit, 0.34F * place.width);
    const float gap = 0.8F * look.unit;
    ImGui::SetCursorScreenPos({place.x + eye_width + gap, place.y + 0.5F * look.unit});
    ImGui::BeginChild("verdict",
                      {place.width - eye_width - passes_width - 3.0F * gap, place.height - 0.6F * look.unit});
    if (form.open) {
        draw_overrule(panel, *moment, *view, form);
    } else {
        draw_verdict_words(look, *moment, *view, part.tried.has_value());
    }
    ImGui::EndChild();
    ImGui::SetCursorScreenPos({place.x + place.width - passes_width - gap, place.y + 0.5F * look.unit});
    ImGui::BeginChild("passes", {passes_width, place.height - 0.6F * look.unit});
    draw_passes(panel, log, *view);
    ImGui::EndChild();
    ImGui::End();
}

} // namespace ropeline
