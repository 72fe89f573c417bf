// The form for one shot: numbered choices line by line, the note, the game clock.
#include "desk/panels/ui.h"

#include "season/clock_words.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>

namespace ropeline {

namespace {

void draw_choices(App& app, const ShotEntry& entry, CardField field, float label_width, float right) {
    const Look& look = app.look;
    const bool focused = app.book->state().field == field;
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float y = start.y + 0.5F * (1.5F * look.unit - look.unit);
    draw_text(ImGui::GetWindowDrawList(), focused ? look.strong : look.body, {start.x, y},
              focused ? look.colours.rope : look.colours.quiet, label_of(field));
    ImGui::SetCursorScreenPos({start.x + label_width, start.y});
    ImGui::BeginGroup();
    const auto choices = choices_of(field);
    const int chosen = chosen_in(entry.shot, field);
    ImGui::PushID(static_cast<int>(field));
    for (std::size_t index = 0; index < choices.size(); ++index) {
        const std::string key = std::to_string(index + 1);
        if (index > 0) wrap_chip(app, key, choices[index], right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(app, "choice", key, choices[index], chosen == static_cast<int>(index) + 1, focused)) {
            app.actions.push_back(ChooseIn{field, static_cast<int>(index) + 1});
        }
        ImGui::PopID();
    }
    ImGui::PopID();
    ImGui::EndGroup();
    static CardField in_sight{}; // a low card scrolls along with the line in focus
    if (focused && in_sight != field) {
        in_sight = field;
        ImGui::SetScrollHereY(0.5F);
    }
}

/// The play as steps: each moment a chip with its kind, the one in hand filled.
void draw_moments(App& app, const ShotEntry& entry, float right) {
    const Moment* in_hand = moment_in_hand(app.book->state());
    for (std::size_t index = 0; index < entry.moments.size(); ++index) {
        const Moment& moment = entry.moments[index];
        const std::string word = is_step(moment)
                                     ? std::string{label_of(moment.kind)}
                                     : fmt::format("{} by film {}", label_of(moment.kind),
                                                   film_number(app.book->state(), moment.film_id));
        if (index > 0) wrap_chip(app, "", word, right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(app, "moment", "", word, &moment == in_hand, false))
            app.actions.push_back(PickMoment{index});
        if (ImGui::IsItemHovered())
            ImGui::SetTooltip(
                "Frame %lld. %s", static_cast<long long>(moment.frame),
                with_keys("[previous_moment] and [next_moment] go from moment to moment, [moment_kind] "
                          "changes its kind.")
                    .c_str());
        ImGui::PopID();
    }
    if (in_hand && !is_step(*in_hand)) return;
    const bool other_film = in_hand && in_hand->film_id != open_film(app.book->state());
    const char* add = other_film ? "add what this camera saw" : "add a moment here";
    const std::string key{shown_chord(chord_of(Command::new_moment))};
    wrap_chip(app, key, add, right);
    if (chip(app, "add", key, add, false, false)) app.actions.push_back(NewMoment{});
}

/// What the carrier's body says: each cue says nothing, shot or pass in turn.
void draw_cues(App& app, float label_width, float right) {
    const Look& look = app.look;
    const Moment* moment = moment_in_hand(app.book->state());
    if (!moment) return;
    const bool focused = app.book->state().field == CardField::cues;
    const ImVec2 start = ImGui::GetCursorScreenPos();
    draw_text(ImGui::GetWindowDrawList(), focused ? look.strong : look.body,
              {start.x, start.y + 0.25F * look.unit}, focused ? look.colours.rope : look.colours.quiet,
              label_of(CardField::cues));
    ImGui::SetCursorScreenPos({start.x + label_width, start.y});
    ImGui::BeginGroup();
    for (std::size_t index = 0; index < cue_facts().size(); ++index) {
        const CueFact& fact = cue_facts()[index];
        const auto known = std::ranges::find(moment->cues, static_cast<CueKind>(index), &Cue::kind);
        const bool says = known != moment->cues.end();
        const std::string key = std::to_string(index + 1);
        const std::string word =
            says ? fmt::format("{}: {}", fact.label, key_of(known->says)) : std::string(fact.label);
        if (index > 0) wrap_chip(app, key, word, right);
        ImGui::PushID(static_cast<int>(index));
        if (chip(app, "cue", key, word, says, focused))
            app.actions.push_back(ChooseIn{CardField::cues, static_cast<int>(index) + 1});
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

void draw_note(App& app, const ShotEntry& entry, float label_width) {
    const Look& look = app.look;
    ImGui::AlignTextToFramePadding();
    const ImVec2 start = ImGui::GetCursorScreenPos();
    draw_text(ImGui::GetWindowDrawList(), look.body, {start.x, start.y + 0.28F * look.unit},
              look.colours.quiet, "note");
    ImGui::SetCursorScreenPos({start.x + label_width, start.y});
    if (!app.note_open) {
        const bool empty = entry.shot.note.empty();
        ImGui::PushStyleColor(ImGuiCol_Text, empty ? look.colours.faint : look.colours.text);
        ImGui::PushTextWrapPos(0.0F);
        ImGui::TextUnformatted(empty ? with_keys("[write_note] to write").c_str() : entry.shot.note.c_str());
        ImGui::PopTextWrapPos();
        ImGui::PopStyleColor();
        if (ImGui::IsItemClicked()) {
            app.note_text = entry.shot.note;
            app.note_open = true;
        }
        return;
    }
    ImGui::SetNextItemWidth(-1.0F);
    if (!ImGui::IsAnyItemActive()) ImGui::SetKeyboardFocusHere();
    const bool entered = ImGui::InputText("##note", &app.note_text, ImGuiInputTextFlags_EnterReturnsTrue);
    if (entered || ImGui::IsItemDeactivated()) {
        if (!ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape)))
            app.actions.push_back(WriteNote{app.note_text});
        app.note_open = false;
    }
}

void draw_who_and_when(App& app, const ShotEntry& entry, float label_width) {
    const Look& look = app.look;
    const LogState& log = app.book->state();
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
                app.actions.push_back(PickGoalie{one.id});
        }
        ImGui::EndCombo();
    }
    ImGui::SameLine(0.0F, 0.6F * look.unit);
    ImGui::AlignTextToFramePadding();
    quiet_text(app, "clock");
    ImGui::SameLine(0.0F, 0.3F * look.unit);
    ImGui::SetNextItemWidth(-1.0F);
    static Id editing;
    if (editing != entry.shot.id) app.clock_text = written_clock(entry.shot);
    ImGui::InputTextWithHint("##clock", "1 m:ss", &app.clock_text);
    if (ImGui::IsItemActivated()) editing = entry.shot.id;
    if (ImGui::IsItemHovered())
        ImGui::SetTooltip(
            "%s",
            entry.shot.clock_from_marks
                ? "From the film's clock marks. Typed here, it is kept as typed: 2 12:34"
                : with_keys(
                      "Period and time left in it: 2 12:34. Empty: from the film's clock marks ([set_clock])")
                      .c_str());
    if (ImGui::IsItemDeactivatedAfterEdit()) {
        if (const auto clock = typed_clock(app.clock_text)) {
            app.actions.push_back(*clock);
        } else {
            app.book->tell("The game clock is written as period and time left: 2 12:34.", true);
        }
    }
    if (!ImGui::IsItemActive()) editing.clear();
}

} // namespace

void draw_shot_card(App& app, const Rect& place) {
    const Look& look = app.look;
    const LogState& log = app.book->state();
    begin_panel("card", place, look.colours.panel);
    const ShotEntry* entry = chosen_shot(log);
    if (!entry) {
        text_in(look.heading, look.colours.text, "Shot card");
        ImGui::Spacing();
        wrapped_text(
            app,
            log.shots.empty()
                ? "No shot yet. Step to the moment the puck leaves the stick and press [new_shot]."
                : "Step to the moment the puck leaves the stick and press [new_shot], or pick a logged shot "
                  "with [previous_shot] and [next_shot].",
            look.colours.quiet);
        if (chosen_film(log) && log.fits.empty()) {
            ImGui::Spacing();
            wrapped_text(
                app,
                "This film has no rink fit yet. Press [fit_rink] on a frame that shows the net and some "
                "lines: depth is measured against it.",
                look.colours.rope);
        }
        ImGui::End();
        return;
    }
    text_in(look.heading, look.colours.text, fmt::format("Shot {}", *chosen_index(log) + 1));
    ImGui::SameLine(0.0F, 0.7F * look.unit);
    const auto open = open_fields(*entry);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    const std::string when = entry->shot.clock_s
                                 ? game_time_words(entry->shot.period, *entry->shot.clock_s) + ",  "
                                 : std::string{};
    quiet_text(app, when +
                        (open.empty() ? std::string{"complete"} : fmt::format("{} still open", open.size())) +
                        (entry->shot.far_net ? ",  far net" : ""));
    if (entry->shot.far_net && ImGui::IsItemHovered())
        ImGui::SetTooltip(
            "%s",
            with_keys("The goalie defends the net at the other end of the rink fit; [turn_ends] turns it.")
                .c_str());
    const float label_width = 5.4F * look.unit;
    const float right = place.x + place.width - 0.6F * look.unit;
    draw_moments(app, *entry, right);
    ImGui::Spacing();
    for (int field = 0; field < asked_fields; ++field) {
        draw_choices(app, *entry, static_cast<CardField>(field), label_width, right);
    }
    draw_cues(app, label_width, right);
    draw_who_and_when(app, *entry, label_width);
    draw_note(app, *entry, label_width);
    ImGui::End();
}

} // namespace ropeline
