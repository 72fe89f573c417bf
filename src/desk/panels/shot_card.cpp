// The whole card of one shot: numbered choices line by line, the note, the game clock.
#include "desk/panels/shot_card.h"

#include "desk/panels/card_details.h"
#include "desk/panels/card_lines.h"
#include "season/clock_words.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>

namespace ropeline {

namespace {

struct CardRoom {
    float label_width = 0.0F, right = 0.0F;
};

void draw_line_of(const Panel& panel, const LogState& log, const ShotEntry& entry, CardField field,
                  const CardRoom& room, CardField& in_sight) {
    const bool focused = log.field == field;
    draw_line_label(panel.look, label_of(field), focused, room.label_width);
    if (detail_in(field) == Detail::net_place) {
        draw_net_places(panel, goalie_of(log, entry.shot.goalie_id),
                        chosen_in(entry.shot, moment_in_hand(log), field), focused);
    } else {
        draw_choices_of(panel, log, entry, field, room.right);
    }
    if (focused && in_sight != field) {
        in_sight = field; // a low card scrolls along with the line in focus
        ImGui::SetScrollHereY(0.5F);
    }
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

} // namespace

void draw_whole_card(const Panel& panel, const LogState& log, const ShotEntry& entry, CardEntry& typed) {
    const Look& look = panel.look;
    const float label_width = 5.4F * look.unit;
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    draw_shot_title(look, log, entry);
    draw_moments(panel, log, entry, right);
    ImGui::Spacing();
    for (const CardField field : shown_fields(log.asks))
        if (field == CardField::cues || !is_of_moment(field) || moment_in_hand(log))
            draw_line_of(panel, log, entry, field, {label_width, right}, typed.in_sight);
    draw_shot_texts(panel, log, entry, label_width, typed);
    draw_who_and_when(panel, log, entry, label_width);
    draw_shot_clock(panel, entry, typed);
    draw_note(panel, entry, label_width, typed);
}

void draw_what_next(const Panel& panel, const LogState& log) {
    const Look& look = panel.look;
    begin_panel("what next", panel.place, look.colours.panel, it_scrolls);
    text_in(look.heading, look.colours.text, "What next");
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
    ImGui::End();
}

} // namespace ropeline
