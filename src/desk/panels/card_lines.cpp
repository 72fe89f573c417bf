#include "desk/panels/card_lines.h"

#include "season/clock_words.h"
#include "season/play.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>

namespace ropeline {

void draw_shot_title(const Look& look, const LogState& log, const ShotEntry& entry) {
    text_in(look.heading, look.colours.text, fmt::format("Shot {}", *chosen_index(log) + 1));
    ImGui::SameLine(0.0F, 0.7F * look.unit);
    const auto open = open_fields(entry);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    const std::string when =
        entry.shot.clock_s ? game_time_words(entry.shot.period, *entry.shot.clock_s) + ",  " : std::string{};
    quiet_text(look,
               when + (open.empty() ? std::string{"complete"} : fmt::format("{} still open", open.size())) +
                   (entry.shot.far_net ? ",  far net" : ""));
    if (entry.shot.far_net && ImGui::IsItemHovered())
        ImGui::SetTooltip(
            "%s",
            with_keys("The goalie defends the net at the other end of the rink fit; [turn_ends] turns it.")
                .c_str());
}

void draw_moments(const Panel& panel, const LogState& log, const ShotEntry& entry, float right) {
    const Look& look = panel.look;
    const Moment* in_hand = moment_in_hand(log);
    for (std::size_t index = 0; index < entry.moments.size(); ++index) {
        const Moment& moment = entry.moments[index];
        const std::string word = is_step(moment) ? std::string{label_of(moment.kind)}
                                                 : fmt::format("{} by film {}", label_of(moment.kind),
                                                               film_number(log, moment.film_id));
        if (index > 0) wrap_chip(look, "", word, right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(look, "moment", "", word, &moment == in_hand, false))
            panel.actions.push_back(PickMoment{index});
        if (ImGui::IsItemHovered())
            ImGui::SetTooltip(
                "Frame %lld. %s", static_cast<long long>(moment.frame),
                with_keys("[previous_moment] and [next_moment] go from moment to moment, [moment_kind] "
                          "changes its kind.")
                    .c_str());
        ImGui::PopID();
    }
    if (in_hand && !is_step(*in_hand)) return;
    const bool other_film = in_hand && in_hand->film_id != open_film(log);
    const char* add = other_film ? "add what this camera saw" : "add a moment here";
    const std::string key{shown_chord(chord_of(Command::new_moment))};
    wrap_chip(look, key, add, right);
    if (chip(look, "add", key, add, false, false)) panel.actions.push_back(NewMoment{});
}

void draw_line_label(const Look& look, std::string_view label, bool focused, float label_width) {
    const ImVec2 start = ImGui::GetCursorScreenPos();
    draw_text(ImGui::GetWindowDrawList(), focused ? look.strong : look.body,
              {start.x, start.y + 0.25F * look.unit}, focused ? look.colours.rope : look.colours.quiet,
              label);
    ImGui::SetCursorScreenPos({start.x + label_width, start.y});
}

namespace {

/// What the carrier's body says: each cue says nothing, shot or pass in turn.
void draw_cues(const Panel& panel, const Moment& moment, bool focused, float right) {
    const Look& look = panel.look;
    for (std::size_t index = 0; index < cue_facts().size(); ++index) {
        const CueFact& fact = cue_facts()[index];
        const auto known = std::ranges::find(moment.cues, static_cast<CueKind>(index), &Cue::kind);
        const bool says = known != moment.cues.end();
        const std::string key = std::to_string(index + 1);
        const std::string word =
            says ? fmt::format("{}: {}", fact.label, key_of(known->says)) : std::string(fact.label);
        if (index > 0) wrap_chip(look, key, word, right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(look, "cue", key, word, says, focused))
            panel.actions.push_back(ChooseIn{CardField::cues, static_cast<int>(index) + 1});
        if (ImGui::IsItemHovered()) {
            ImGui::SetTooltip("shot: %s\npass: %s", std::string(fact.shot).c_str(),
                              std::string(fact.pass).c_str());
        }
        ImGui::PopID();
    }
}

} // namespace

void draw_choices_of(const Panel& panel, const LogState& log, const ShotEntry& entry, CardField field,
                     float right) {
    const bool focused = log.field == field;
    const Moment* moment = moment_in_hand(log);
    ImGui::BeginGroup();
    ImGui::PushID(static_cast<int>(field));
    if (is_of_moment(field) && !moment) {
        quiet_text(panel.look, "mark the moment first");
    } else if (field == CardField::cues) {
        draw_cues(panel, *moment, focused, right);
    } else {
        const int chosen = chosen_in(entry.shot, moment, field);
        int number = 0;
        for (const std::string_view choice : choices_of(field)) {
            const std::string key = std::to_string(++number);
            if (number > 1) wrap_chip(panel.look, key, choice, right);
            ImGui::PushID(number);
            if (chip(panel.look, "choice", key, choice, chosen == number, focused))
                panel.actions.push_back(ChooseIn{field, number});
            ImGui::PopID();
        }
    }
    ImGui::PopID();
    ImGui::EndGroup();
}

void draw_note(const Panel& panel, const ShotEntry& entry, float label_width, CardEntry& typed) {
    const Look& look = panel.look;
    ImGui::AlignTextToFramePadding();
    const ImVec2 start = ImGui::GetCursorScreenPos();
    draw_text(ImGui::GetWindowDrawList(), look.body, {start.x, start.y + 0.28F * look.unit},
              look.colours.quiet, "note");
    ImGui::SetCursorScreenPos({start.x + label_width, start.y});
    if (!typed.note_open) {
        const bool empty = entry.shot.note.empty();
        ImGui::PushStyleColor(ImGuiCol_Text, empty ? look.colours.faint : look.colours.text);
        ImGui::PushTextWrapPos(0.0F);
        ImGui::TextUnformatted(empty ? with_keys("[write_note] to write").c_str() : entry.shot.note.c_str());
        ImGui::PopTextWrapPos();
        ImGui::PopStyleColor();
        if (ImGui::IsItemClicked()) {
            typed.note = entry.shot.note;
            typed.note_open = true;
        }
        return;
    }
    ImGui::SetNextItemWidth(-1.0F);
    if (!ImGui::IsAnyItemActive()) ImGui::SetKeyboardFocusHere();
    const bool entered = ImGui::InputText("##note", &typed.note, ImGuiInputTextFlags_EnterReturnsTrue);
    if (entered || ImGui::IsItemDeactivated()) {
        if (!ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape)))
            panel.actions.push_back(WriteNote{typed.note});
        typed.note_open = false;
    }
}

} // namespace ropeline
