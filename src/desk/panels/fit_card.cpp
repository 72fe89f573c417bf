// The card of a rink fit in the making: what is clicked, how far off each click is, whether it can be
// trusted.
#include "desk/panels/fit_card.h"

#include "desk/panels/hand_words.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

/// Whether the fit can be trusted, and what the next click would gain; or why there is none.
void draw_quality(const Look& look, const FitDraft& fit) {
    const Palette& c = look.colours;
    if (!fit.fit)
        return wrapped_text(fit.trouble, numbers_fixed(fit) < numbers_needed(fit) ? c.quiet : c.trouble);
    const FitQuality quality = quality_of(*fit.fit, fit.rests_on);
    wrapped_text(words_of(quality, look.lengths), quality.grade == FitQuality::Grade::good   ? c.save
                                                  : quality.grade == FitQuality::Grade::fair ? c.text
                                                                                             : c.rope);
    if (!fit.snapped.empty()) wrapped_text(fit.snapped, c.save);
    if (const std::string offer = offer_words(fit, look.lengths); !offer.empty())
        wrapped_text(fit.offered.empty() ? offer : "next click: " + offer, c.quiet);
    for (const std::string& warning : fit.fit->warnings)
        wrapped_text(warning, c.trouble);
}

void draw_proposal_words(const Palette& c, const FitDraft& fit, bool proposing) {
    if (fit.proposed && !fit.fit) {
        wrapped_text(with_keys("Drawn over the picture: the fit that the paint alone says, of the end in "
                               "view. Does it lie on the lines? Then [take_proposal] takes it."),
                     c.rope);
    } else if (proposing && fit.clicks.empty()) {
        wrapped_text("The paint of this frame is looked at: in some seconds a whole fit may be offered.",
                     c.quiet);
    }
}

} // namespace

void draw_fit_card(const Panel& panel, const LogPart& part, const FitDraft& fit, bool proposing) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    const RuleBook& rules = rule_book(fit.rules);
    begin_panel("fit card", panel.place, c.panel, it_scrolls);
    text_in(look.heading, c.text, "Rink fit");
    ImGui::SameLine(0.0F, 0.7F * look.unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    quiet_text(look, fmt::format("frame {}, {} rink", fit.frame, rules.name));
    ImGui::PushTextWrapPos(0.0F);
    text_in(look.strong, c.text, hand_words(part));
    ImGui::PopTextWrapPos();
    draw_quality(look, fit);
    if (!fit.clicks.empty() || !fit.offered.empty())
        wrapped_text("Left and right are the goalie's, looking out from the net.", c.quiet);
    if (fit.mirrored && word_button(look, with_keys("Swap left and right  ([swap_sides])").c_str(), true))
        panel.actions.push_back(SwapSides{});
    draw_proposal_words(c, fit, proposing);
    const float buttons = 2.4F * look.unit;
    const float room = std::max(6.0F * look.unit, ImGui::GetContentRegionAvail().y - buttons);
    if (ImGui::BeginChild("clicks", {0.0F, room})) {
        if (!fit.clicks.empty() && ImGui::BeginTable("clicks", 3, ImGuiTableFlags_RowBg)) {
            ImGui::TableSetupColumn("landmark or line", ImGuiTableColumnFlags_WidthStretch);
            ImGui::TableSetupColumn("off by", ImGuiTableColumnFlags_WidthFixed, 3.6F * look.unit);
            ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, 3.0F * look.unit);
            ImGui::TableHeadersRow();
            for (std::size_t index = 0; index < fit.clicks.size(); ++index) {
                ImGui::PushID(static_cast<int>(index));
                ImGui::TableNextRow();
                ImGui::TableNextColumn();
                ImGui::AlignTextToFramePadding();
                ImGui::TextUnformatted(label_of(rules, fit.clicks[index].name).c_str());
                ImGui::TableNextColumn();
                ImGui::AlignTextToFramePadding();
                if (const auto off = residual_of(fit, index)) {
                    const double size = std::hypot(off->x_px, off->y_px);
                    text_in(look.body, size > 5.0 ? c.trouble : c.quiet, fmt::format("{:.1f} px", size));
                } else {
                    quiet_text(look, "–");
                }
                ImGui::TableNextColumn();
                if (ImGui::SmallButton("drop")) panel.actions.push_back(RemoveClick{index});
                ImGui::PopID();
            }
            ImGui::EndTable();
        } else if (fit.clicks.empty()) {
            wrapped_text(
                fmt::format("Click painted points you can see, at least {}, spread wide; six or more "
                            "show how well they agree. What is ringed on the plan is the one to "
                            "click; any other point, line or circle can be picked there.",
                            fit.cameras.empty() ? "four" : "three"),
                c.faint);
        }
    }
    ImGui::EndChild();
    if (fit.proposed && !fit.fit) {
        if (word_button(look, with_keys("Take this fit  ([take_proposal])").c_str(), true))
            panel.actions.push_back(Press{Command::take_proposal});
    } else if (word_button(look, with_keys("Keep the fit  ([take_shot])").c_str(), fit.fit.has_value())) {
        panel.actions.push_back(KeepFit{});
    }
    ImGui::SameLine();
    if (word_button(look, with_keys("Leave it  ([put_down])").c_str())) panel.actions.push_back(PutDown{});
    ImGui::End();
}

} // namespace ropeline
