// The form for one shot: numbered choices line by line, the note, the game clock.
#include "desk/panels/shot_card.h"

#include "desk/panels/card_details.h"
#include "season/clock_words.h"
#include "season/play.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>

namespace ropeline {

namespace {

struct CardRoom {
    float label_width = 0.0F, right = 0.0F;
};

void draw_choices(const Panel& panel, const LogState& log, const ShotEntry& entry, CardField field,
                  const CardRoom& room, CardField& in_sight) {
    const Look& look = panel.look;
    const bool focused = log.field == field;
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float y = start.y + 0.5F * (1.5F * look.unit - look.unit);
    draw_text(ImGui::GetWindowDrawList(), focused ? look.strong : look.body, {start.x, y},
              focused ? look.colours.rope : look.colours.quiet, label_of(field));
    ImGui::SetCursorScreenPos({start.x + room.label_width, start.y});
    ImGui::BeginGroup();
    const auto choices = choices_of(field);
    const int chosen = chosen_in(entry.shot, field);
    ImGui::PushID(static_cast<int>(field));
    for (std::size_t index = 0; index < choices.size(); ++index) {
        const std::string key = std::to_string(index + 1);
        if (index > 0) wrap_chip(look, key, choices[index], room.right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(look, "choice", key, choices[index], chosen == static_cast<int>(index) + 1, focused)) {
            panel.actions.push_back(ChooseIn{field, static_cast<int>(index) + 1});
        }
        ImGui::PopID();
    }
    ImGui::PopID();
    ImGui::EndGroup();
    if (focused && in_sight != field) {
        in_sight = field; // a low card scrolls along with the line in focus
        ImGui::SetScrollHereY(0.5F);
    }
}

/// The play as steps: each moment a chip with its kind, the one in hand filled.
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

/// What the carrier's body says: each cue says nothing, shot or pass in turn.
void draw_cues(const Panel& panel, const LogState& log, const CardRoom& room) {
    const Look& look = panel.look;
    const Moment* moment = moment_in_hand(log);
    if (!moment) return;
    const bool focused = log.field == CardField::cues;
    const ImVec2 start = ImGui::GetCursorScreenPos();
    draw_text(ImGui::GetWindowDrawList(), focused ? look.strong : look.body,
              {start.x, start.y + 0.25F * look.unit}, focused ? look.colours.rope : look.colours.quiet,
              label_of(CardField::cues));
    ImGui::SetCursorScreenPos({start.x + room.label_width, start.y});
    ImGui::BeginGroup();
    for (std::size_t index = 0; index < cue_facts().size(); ++index) {
        const CueFact& fact = cue_facts()[index];
        const auto known = std::ranges::find(moment->cues, static_cast<CueKind>(index), &Cue::kind);
        const bool says = known != moment->cues.end();
        const std::string key = std::to_string(index + 1);
        const std::string word =
            says ? fmt::format("{}: {}", fact.label, key_of(known->says)) : std::string(fact.label);
        if (index > 0) wrap_chip(look, key, word, room.right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(look, "cue", key, word, says, focused))
            panel.actions.push_back(ChooseIn{CardField::cues, static_cast<int>(index) + 1});
        if (ImGui::IsItemHovered()) {
            ImGui::SetTooltip("shot: %s\npass: %s", std::string(fact.shot).c_str(),
                              std::string(fact.pass).c_str());
        }
        ImGui::PopID();
    }
    ImGui::EndGroup();
}

/// What is typed for the open shot; an empty text leaves its clock to the film's clock marks.
std::optional<PutClock> typed_clock(const std::string& text) {
    if (text.find_first_not_of(' ') == std::string::npos) return PutClock{};
    const auto clock = read_clock(text);
    if (!clock) return std::nullopt;
    return PutClock{clock->period, clock->clock_s};
}

std::string written_clock(const Shot& shot) {
    std::string text;
    if (shot.period) text = std::to_string(*shot.period) + " ";
    if (shot.clock_s) text += clock_words(*shot.clock_s);
    return text;
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

/// The clock of the open shot, typed.
void draw_shot_clock(const Panel& panel, const ShotEntry& entry, CardEntry& typed) {
    const Look& look = panel.look;
    ImGui::SameLine(0.0F, 0.6F * look.unit);
    ImGui::AlignTextToFramePadding();
    quiet_text(look, "clock");
    ImGui::SameLine(0.0F, 0.3F * look.unit);
    ImGui::SetNextItemWidth(-1.0F);
    if (typed.clock_of != entry.shot.id) typed.clock = written_clock(entry.shot);
    ImGui::InputTextWithHint("##clock", "1 m:ss", &typed.clock);
    if (ImGui::IsItemActivated()) typed.clock_of = entry.shot.id;
    if (ImGui::IsItemHovered())
        ImGui::SetTooltip(
            "%s",
            entry.shot.clock_from_marks
                ? "From the film's clock marks. Typed here, it is kept as typed: 2 12:34"
                : with_keys(
                      "Period and time left in it: 2 12:34. Empty: from the film's clock marks ([set_clock])")
                      .c_str());
    if (ImGui::IsItemDeactivatedAfterEdit()) {
        if (const auto clock = typed_clock(typed.clock)) {
            panel.actions.push_back(*clock);
        } else {
            panel.actions.push_back(
                Tell{"The game clock is written as period and time left: 2 12:34.", true});
        }
    }
    if (!ImGui::IsItemActive()) typed.clock_of.clear();
}

void draw_who_and_when(const Panel& panel, const LogState& log, const ShotEntry& entry, float label_width) {
    const Look& look = panel.look;
    const ImVec2 start = ImGui::GetCursorScreenPos();
    draw_text(ImGui::GetWindowDrawList(), look.body, {start.x, start.y + 0.28F * look.unit},
              look.colours.quiet, "in net");
    ImGui::SetCursorScreenPos({start.x + label_width, start.y});
    const Goalie* goalie = goalie_of(log, entry.shot.goalie_id);
    const float clock_width = 5.2F * look.unit;
    ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x - clock_width - 3.4F * look.unit);
    if (ImGui::BeginCombo("##goalie", goalie ? goalie->name.c_str() : "nobody")) {
        for (const Goalie& one : log.goalies) {
            const std::string label =
                fmt::format("{} ({})##{}", one.name, team_name(log, one.team_id), one.id);
            if (ImGui::Selectable(label.c_str(), one.id == entry.shot.goalie_id))
                panel.actions.push_back(PickGoalie{one.id});
        }
        ImGui::EndCombo();
    }
}

/// No shot is open: what to do next.
void draw_empty_card(const Look& look, const LogState& log) {
    text_in(look.heading, look.colours.text, "Shot card");
    ImGui::Spacing();
    wrapped_text(
        log.shots.empty()
            ? "No shot yet. Step to the moment the puck leaves the stick and press [new_shot]."
            : "Step to the moment the puck leaves the stick and press [new_shot], or pick a logged shot "
              "with [previous_shot] and [next_shot].",
        look.colours.quiet);
    if (chosen_film(log) && log.fits.empty()) {
        ImGui::Spacing();
        wrapped_text("This film has no rink fit yet. Press [fit_rink] on a frame that shows the net and some "
                     "lines: depth is measured against it.",
                     look.colours.rope);
    }
}

void draw_title(const Look& look, const LogState& log, const ShotEntry& entry) {
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

} // namespace

void draw_shot_card(const Panel& panel, const LogState& log, CardEntry& typed) {
    const Look& look = panel.look;
    begin_panel("card", panel.place, look.colours.panel);
    const ShotEntry* entry = chosen_shot(log);
    if (!entry) {
        draw_empty_card(look, log);
        ImGui::End();
        return;
    }
    draw_title(look, log, *entry);
    const CardRoom room{5.4F * look.unit, panel.place.x + panel.place.width - 0.6F * look.unit};
    draw_moments(panel, log, *entry, room.right);
    ImGui::Spacing();
    for (int field = 0; field < asked_fields; ++field)
        draw_choices(panel, log, *entry, static_cast<CardField>(field), room, typed.in_sight);
    draw_cues(panel, log, room);
    draw_card_details(panel, log, *entry, room.label_width, typed);
    draw_who_and_when(panel, log, *entry, room.label_width);
    draw_shot_clock(panel, *entry, typed);
    draw_note(panel, *entry, room.label_width, typed);
    ImGui::End();
}

} // namespace ropeline
