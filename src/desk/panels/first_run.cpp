// The page without a season: says what to do, takes a dropped film, makes the season file.
#include "desk/panels/ui.h"

#include "desk/state/settings.h"
#include "season/dates.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <filesystem>

namespace ropeline {

namespace {

void field(const App& app, const char* label, const char* id, std::string& text, const char* hint,
           bool needed = false) {
    ImGui::AlignTextToFramePadding();
    const float x = ImGui::GetCursorPosX();
    const bool missing = needed && text.find_first_not_of(' ') == std::string::npos;
    text_in(app.look.body, missing ? app.look.colours.rope : app.look.colours.quiet, label);
    ImGui::SameLine(x + 8.5F * app.look.unit);
    ImGui::SetNextItemWidth(-1.0F);
    ImGui::InputTextWithHint(id, hint, &text);
}

void choice(const App& app, const char* label, int count, int& chosen, std::string_view (*word)(int)) {
    ImGui::AlignTextToFramePadding();
    const float x = ImGui::GetCursorPosX();
    quiet_text(app, label);
    ImGui::SameLine(x + 8.5F * app.look.unit);
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    ImGui::BeginGroup();
    ImGui::PushID(label);
    for (int index = 0; index < count; ++index) {
        if (index > 0) wrap_chip(app, "", word(index), right);
        ImGui::PushID(index);
        if (chip(app, "choice", "", word(index), chosen == index, false)) chosen = index;
        ImGui::PopID();
    }
    ImGui::PopID();
    ImGui::EndGroup();
}

void step(const App& app, const char* number, const char* words) {
    ImGui::Dummy({1.0F, 0.35F * app.look.unit});
    text_in(app.look.heading, app.look.colours.rope, number);
    ImGui::SameLine(0.0F, 0.6F * app.look.unit);
    text_in(app.look.heading, app.look.colours.text, words);
}

} // namespace

void draw_first_run(App& app, const Rect& place) {
    const Look& look = app.look;
    const Palette& c = look.colours;
    FirstRunForm& form = app.first_run;
    if (form.date.empty()) form.date = today();
    if (!form.path_typed) form.path = suggested_season_path(form.season).string();
    const float width = std::min(46.0F * look.unit, place.width);
    begin_panel("first run", {place.x + 0.5F * (place.width - width), place.y, width, place.height}, c.ground,
                0, true);
    ImGui::PushStyleColor(ImGuiCol_FrameBg, c.panel);
    text_in(look.figure, c.text, "Log your first game");
    wrapped_text(app,
                 "Ropeline keeps a season in one file on this computer: films, shots, where the goalie "
                 "stood, what was read and what happened. Three steps, then the film opens.",
                 c.quiet);

    step(app, "1", "The season");
    field(app, "Name", "##season", form.season, "needed", true);
    field(app, "League", "##league", form.league, "may stay empty");
    choice(app, "Rink", static_cast<int>(rule_books().size()), form.rules,
           [](int index) { return rule_books()[static_cast<std::size_t>(index)].name; });
    choice(app, "Level of play", 4, form.level, [](int index) { return key_of(static_cast<Level>(index)); });

    step(app, "2", "The game");
    const bool first_turn = ImGui::IsWindowAppearing();
    field(app, "Goalie", "##goalie", form.goalie, "needed: who is in net", true);
    if (first_turn) ImGui::SetKeyboardFocusHere(-1);
    field(app, "Goalie's team", "##team", form.team, "our team");
    field(app, "Opponent", "##opponent", form.opponent, "opponent");
    field(app, "Date", "##date", form.date, "2026-11-25");

    step(app, "3", "The film");
    field(app, "Film file", "##film", form.film, "drop it on this window, or type where it is");
    const std::string before = form.path;
    field(app, "Kept in", "##path", form.path, "where the season file goes");
    if (form.path != before) form.path_typed = true;

    ImGui::Dummy({1.0F, 0.4F * look.unit});
    if (word_button(app, "Make the season and open the film  (Enter)", true)) create_season(app);
    ImGui::SameLine(0.0F, look.unit);
    if (app.practice) {
        ImGui::AlignTextToFramePadding();
        quiet_text(app, fmt::format("Making the practice film: {} %", app.practice->per_cent.load()));
    } else if (word_button(app, "Learn on a practice film first")) {
        begin_practice(app);
    }
    if (!app.trouble.empty()) wrapped_text(app, app.trouble, c.trouble);
    wrapped_text(app,
                 "Have a season already? Drop its .season file here. Film players, minors above all, only "
                 "with consent, and keep the film private.",
                 c.faint);
    ImGui::PopStyleColor();
    ImGui::End();
}

} // namespace ropeline
