#include "desk/panels/question.h"

#include "desk/panels/card_lines.h"
#include "desk/panels/hand_words.h"

#include <fmt/core.h>

namespace ropeline {

namespace {

/// "save, held": what a line of the card holds, in words; empty while it is open.
std::string answer_words(const LogState& log, const ShotEntry& entry, CardField field) {
    const Moment* moment = moment_in_hand(log);
    if (field == CardField::cues) {
        const std::size_t said = moment ? moment->cues.size() : 0;
        return said == 0 ? std::string{} : fmt::format("{} cue{}", said, said == 1 ? "" : "s");
    }
    const int chosen = chosen_in(entry.shot, moment, field);
    if (chosen == 0) return {};
    return std::string{choices_of(field).at(static_cast<std::size_t>(chosen - 1))};
}

/// What is answered shrinks to words that can be clicked to be asked again; what is open stays its line's name.
void draw_answered(const Panel& panel, const LogState& log, const ShotEntry& entry, float right) {
    const Look& look = panel.look;
    bool first = true;
    for (const CardField field : shown_fields(log.asks)) {
        if (field == log.field) continue;
        const std::string answer = answer_words(log, entry, field);
        const bool asked = static_cast<int>(field) < asked_fields;
        if (answer.empty() && !asked) continue;
        const std::string said = answer.empty()             ? std::string{label_of(field)} + " ?"
                                 : field == CardField::read ? "read " + answer
                                 : field == CardField::came ? answer + " came"
                                                            : answer;
        const float width = text_size(look.body, said).x;
        const float next = ImGui::GetItemRectMax().x + 0.9F * look.unit;
        if (!first && next + width <= right) ImGui::SameLine(0.0F, 0.9F * look.unit);
        first = false;
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::PushID(static_cast<int>(field));
        if (ImGui::InvisibleButton("answered", {width, 1.5F * look.unit}))
            panel.actions.push_back(Focus{field});
        const bool hovered = ImGui::IsItemHovered();
        if (hovered) ImGui::SetTooltip("%s: a click asks again", std::string{label_of(field)}.c_str());
        ImGui::PopID();
        draw_text(ImGui::GetWindowDrawList(), look.body, {at.x, at.y + 0.25F * look.unit},
                  hovered          ? look.colours.rope
                  : answer.empty() ? look.colours.faint
                                   : look.colours.quiet,
                  said);
    }
}

/// The choices of the line in focus.
void draw_open_question(const Panel& panel, const LogState& log, const ShotEntry& entry, bool narrow,
                        float right) {
    const Look& look = panel.look;
    if (narrow) {
        text_in(look.strong, look.colours.rope, label_of(log.field));
    } else {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float wide = draw_text(ImGui::GetWindowDrawList(), look.strong,
                                     {at.x, at.y + 0.25F * look.unit}, look.colours.rope, label_of(log.field))
                               .x;
        ImGui::SetCursorScreenPos({at.x + wide + 0.9F * look.unit, at.y});
    }
    draw_choices_of(panel, log, entry, log.field, right);
}

void draw_unfold(const Panel& panel, const Pages& pages, float right) {
    const std::string key{shown_chord(chord_of(Command::unfold))};
    const char* words = pages.unfolded ? "the crease" : "whole card, figures";
    wrap_chip(panel.look, key, words, right);
    if (chip(panel.look, "unfold", key, words, false, false)) panel.actions.push_back(Press{Command::unfold});
}

/// Gold once nothing asked is open.
void draw_done(const Panel& panel, const ShotEntry& entry, float right) {
    const std::string key{shown_chord(chord_of(Command::take_shot))};
    const bool complete = open_fields(entry).empty();
    const char* words = complete ? "complete: shot done" : "shot done";
    wrap_chip(panel.look, key, words, right);
    if (chip(panel.look, "done", key, words, complete, false))
        panel.actions.push_back(Press{Command::take_shot});
    if (ImGui::IsItemHovered())
        ImGui::SetTooltip(
            "%s",
            with_keys("Everything is kept as you choose it. [take_shot] closes the shot, [new_shot] starts "
                      "the next one on the frame that is shown.")
                .c_str());
}

} // namespace

void draw_question(const Panel& panel, const LogState& log, Pages& pages) {
    const Look& look = panel.look;
    begin_panel("question", panel.place, look.colours.panel, it_scrolls);
    const ShotEntry* entry = chosen_shot(log);
    if (!entry) return ImGui::End();
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    draw_open_question(panel, log, *entry, false, right);
    if (pages.card.note_open) {
        draw_note(panel, *entry, 4.0F * look.unit, pages.card);
    } else {
        draw_moments(panel, log, *entry, right);
        draw_done(panel, *entry, right);
        draw_unfold(panel, pages, right);
        ImGui::SameLine(0.0F, 1.2F * look.unit);
        draw_answered(panel, log, *entry, right);
    }
    ImGui::End();
}

void draw_marking(const Panel& panel, const LogPart& part, Pages& pages) {
    const Look& look = panel.look;
    const LogState& log = part.state();
    begin_panel("marking", panel.place, look.colours.panel, it_scrolls);
    const ShotEntry* entry = chosen_shot(log);
    if (!entry) return ImGui::End();
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    draw_shot_title(look, log, *entry);
    if (const std::string words = hand_words(part); !words.empty()) {
        ImGui::PushTextWrapPos(0.0F);
        text_in(look.heading, look.colours.text, words);
        ImGui::PopTextWrapPos();
    }
    ImGui::Spacing();
    draw_moments(panel, log, *entry, right);
    draw_done(panel, *entry, right);
    ImGui::Spacing();
    draw_open_question(panel, log, *entry, true, right);
    ImGui::Spacing();
    draw_answered(panel, log, *entry, right);
    draw_note(panel, *entry, 3.0F * look.unit, pages.card);
    ImGui::End();
}

} // namespace ropeline
