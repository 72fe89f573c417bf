// The page without a season: says what to do, takes a dropped film, makes the season file.
#include "desk/panels/first_run.h"

#include "desk/state/settings.h"
#include "season/dates.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <filesystem>

namespace ropeline {

namespace {

void field(const Look& look, const char* label, const char* id, std::string& text, const char* hint,
           bool needed = false) {
    ImGui::AlignTextToFramePadding();
    const float x = ImGui::GetCursorPosX();
    const bool missing = needed && text.find_first_not_of(' ') == std::string::npos;
    text_in(look.body, missing ? look.colours.rope : look.colours.quiet, label);
    ImGui::SameLine(x + 8.5F * look.unit);
    ImGui::SetNextItemWidth(-1.0F);
    ImGui::InputTextWithHint(id, hint, &text);
}

void choice(const Look& look, const char* label, int count, int& chosen, std::string_view (*word)(int)) {
    ImGui::AlignTextToFramePadding();
    const float x = ImGui::GetCursorPosX();
    quiet_text(look, label);
    ImGui::SameLine(x + 8.5F * look.unit);
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    ImGui::BeginGroup();
    ImGui::PushID(label);
    for (int index = 0; index < count; ++index) {
        if (index > 0) wrap_chip(look, "", word(index), right);
        ImGui::PushID(index);
        if (chip(look, "choice", "", word(index), chosen == index, false)) chosen = index;
        ImGui::PopID();
    }
    ImGui::PopID();
    ImGui::EndGroup();
}

void step(const Look& look, const char* number, const char* words) {
    ImGui::Dummy({1.0F, 0.35F * look.unit});
    text_in(look.heading, look.colours.rope, number);
    ImGui::SameLine(0.0F, 0.6F * look.unit);
    text_in(look.heading, look.colours.text, words);
}

/// The two buttons, and what went wrong with the last.
void draw_ways_on(const Panel& panel, const FirstRun& first) {
    const Look& look = panel.look;
    ImGui::Dummy({1.0F, 0.4F * look.unit});
    if (word_button(look, "Make the season and open the film  (Enter)", true))
        panel.actions.push_back(MakeSeason{});
    ImGui::SameLine(0.0F, look.unit);
    if (first.practice) {
        ImGui::AlignTextToFramePadding();
        quiet_text(look, fmt::format("Making the practice film: {} %", first.practice->per_cent()));
    } else if (word_button(look, "Learn on a practice film first")) {
        panel.actions.push_back(MakePractice{});
    }
    if (!first.trouble.empty()) wrapped_text(first.trouble, look.colours.trouble);
}

} // namespace

void draw_first_run(const Panel& panel, FirstRun& first) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const Palette& c = look.colours;
    FirstRunForm& form = first.form;
    if (form.date.empty()) form.date = today();
    if (!form.path_typed) form.path = suggested_season_path(form.season).string();
    const float width = std::min(46.0F * look.unit, place.width);
    begin_panel("first run", {place.x + 0.5F * (place.width - width), place.y, width, place.height}, c.ground,
                0, true);
    ImGui::PushStyleColor(ImGuiCol_FrameBg, c.panel);
    text_in(look.figure, c.text, "Log your first game");
    wrapped_text("Ropeline keeps a season in one file on this computer: films, shots, where the goalie "
                 "stood, what was read and what happened. Three steps, then the film opens.",
                 c.quiet);

    step(look, "1", "The season");
    field(look, "Name", "##season", form.season, "needed", true);
    field(look, "League", "##league", form.league, "may stay empty");
    choice(look, "Rink", static_cast<int>(rule_books().size()), form.rules,
           [](int index) { return rule_books()[static_cast<std::size_t>(index)].name; });
    choice(look, "Level of play", 4, form.level, [](int index) { return key_of(static_cast<Level>(index)); });

    step(look, "2", "The game");
    const bool first_turn = ImGui::IsWindowAppearing();
    field(look, "Goalie", "##goalie", form.goalie, "needed: who is in net", true);
    if (first_turn) ImGui::SetKeyboardFocusHere(-1);
    field(look, "Goalie's team", "##team", form.team, "our team");
    field(look, "Opponent", "##opponent", form.opponent, "opponent");
    field(look, "Date", "##date", form.date, "2026-11-25");

    step(look, "3", "The film");
    field(look, "Film file", "##film", form.film, "drop it on this window, or type where it is");
    const std::string before = form.path;
    field(look, "Kept in", "##path", form.path, "where the season file goes");
    if (form.path != before) form.path_typed = true;

    draw_ways_on(panel, first);
    wrapped_text("Have a season already? Drop its .season file here. Film players, minors above all, only "
                 "with consent, and keep the film private.",
                 c.faint);
    ImGui::PopStyleColor();
    ImGui::End();
}

} // namespace ropeline
