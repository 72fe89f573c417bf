// The start page: recent seasons at the left, the form of a new one at the right.
#include "desk/panels/start_page.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <filesystem>

namespace ropeline {

namespace {

constexpr float label_units = 8.5F;

/// One line of the form. What is wrong with it stands under it.
struct Field {
    const char* label;
    const char* id;
    const char* hint;
    std::string& text;
    std::string& trouble;
};

/// Out  true when its text was changed
bool draw_field(const Look& look, const Field& field, float room_right = 0.0F) {
    ImGui::AlignTextToFramePadding();
    const float x = ImGui::GetCursorPosX();
    const bool wrong = !field.trouble.empty();
    text_in(look.body, wrong ? look.colours.trouble : look.colours.quiet, field.label);
    ImGui::SameLine(x + label_units * look.unit);
    ImGui::SetNextItemWidth(room_right > 0.0F ? -room_right : -1.0F);
    if (wrong) ImGui::PushStyleColor(ImGuiCol_Border, look.colours.trouble);
    if (wrong) ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, look.pen(1.5F));
    const bool changed = ImGui::InputTextWithHint(field.id, field.hint, &field.text);
    if (wrong) ImGui::PopStyleVar();
    if (wrong) ImGui::PopStyleColor();
    if (changed) field.trouble.clear();
    return changed;
}

void draw_field_trouble(const Look& look, const std::string& trouble) {
    if (trouble.empty()) return;
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + label_units * look.unit);
    wrapped_text(trouble, look.colours.trouble);
}

void draw_plain_field(const Look& look, const Field& field) {
    draw_field(look, field);
    draw_field_trouble(look, field.trouble);
}

/// A field with the chooser behind it. Out  true when its text was changed
bool draw_file_field(const Panel& panel, const Field& field, ChooserFor what) {
    const Look& look = panel.look;
    const float room = text_size(look.body, "Choose").x + 1.6F * look.unit;
    const bool changed = draw_field(look, field, room);
    ImGui::SameLine(0.0F, 0.5F * look.unit);
    ImGui::PushID(field.id);
    if (word_button(look, "Choose")) panel.actions.push_back(ChooseFile{what});
    ImGui::PopID();
    draw_field_trouble(look, field.trouble);
    return changed;
}

void choice(const Look& look, const char* label, int count, int& chosen, std::string_view (*word)(int)) {
    ImGui::AlignTextToFramePadding();
    const float x = ImGui::GetCursorPosX();
    quiet_text(look, label);
    ImGui::SameLine(x + label_units * look.unit);
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
    ImGui::Dummy({1.0F, 0.25F * look.unit});
    text_in(look.heading, look.colours.rope, number);
    ImGui::SameLine(0.0F, 0.6F * look.unit);
    text_in(look.heading, look.colours.text, words);
}

void draw_form(const Panel& panel, StartPage& start) {
    const Look& look = panel.look;
    NewSeasonForm& form = start.form;
    FormTrouble& wrong = start.field_trouble;
    step(look, "1", "The season");
    draw_plain_field(look, {"Name", "##season", "needed", form.season, wrong.season});
    draw_plain_field(look, {"League", "##league", "may stay empty", form.league, wrong.league});
    choice(look, "Rink", static_cast<int>(rule_books().size()), form.rules,
           [](int index) { return rule_books()[static_cast<std::size_t>(index)].name; });
    choice(look, "Level of play", 4, form.level, [](int index) { return key_of(static_cast<Level>(index)); });

    step(look, "2", "The first game");
    draw_field(look, {"Goalie", "##goalie", "needed: who is in net", form.goalie, wrong.goalie});
    if (start.to_form) ImGui::SetKeyboardFocusHere(-1);
    start.to_form = false;
    draw_field_trouble(look, wrong.goalie);
    draw_plain_field(look, {"Goalie's team", "##team", "our team", form.team, wrong.team});
    draw_plain_field(look, {"Opponent", "##opponent", "opponent", form.opponent, wrong.opponent});
    draw_plain_field(look, {"Date", "##date", "2026-11-25", form.date, wrong.date});

    step(look, "3", "The film");
    draw_file_field(panel, {"Film file", "##film", "choose it, drop it here, or type", form.film, wrong.film},
                    ChooserFor::new_film);
    if (draw_file_field(panel, {"Kept in", "##path", "where the season file goes", form.path, wrong.path},
                        ChooserFor::new_season))
        form.path_typed = true;

    ImGui::Dummy({1.0F, 0.25F * look.unit});
    const char* words =
        form.film.empty() ? "Make the season  (Enter)" : "Make the season and open the film  (Enter)";
    if (word_button(look, words, true)) panel.actions.push_back(MakeSeason{});
    if (wrong.any()) wrapped_text("Not yet: see the marked fields.", look.colours.trouble);
}

struct RecentRow {
    const RecentSeason& season;
    std::size_t index = 0;
    bool open_now = false, gone = false;
};

std::string words_under(const RecentRow& row) {
    if (row.open_now) return "open now";
    const std::string where = shown_place(row.season.path.parent_path());
    if (row.gone) return "not there now: " + where;
    return where + (row.season.day.empty() ? "" : ",  " + row.season.day);
}

void draw_recent(const Panel& panel, const RecentRow& row) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    const float unit = look.unit, tall = 3.1F * unit;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float wide = std::max(1.0F, ImGui::GetContentRegionAvail().x);
    ImGui::PushID(static_cast<int>(row.index));
    if (ImGui::InvisibleButton("recent", {wide, tall})) {
        if (row.open_now) {
            panel.actions.push_back(Press{Command::put_down});
        } else {
            panel.actions.push_back(OpenRecent{row.index});
        }
    }
    const bool hovered = ImGui::IsItemHovered();
    ImGui::PopID();
    ImDrawList* draw = ImGui::GetWindowDrawList();
    draw->AddRectFilled(at, {at.x + wide, at.y + tall}, hovered ? c.edge : c.raised, 0.25F * unit);
    const float x = at.x + 0.8F * unit;
    draw_text(draw, look.strong, {x, at.y + 0.5F * (tall - unit)}, c.rope, std::to_string(row.index + 1));
    const float words_x = x + 1.6F * unit, room = wide - 3.0F * unit;
    draw_text(draw, look.strong, {words_x, at.y + 0.4F * unit}, row.gone ? c.quiet : c.text,
              shortened(look.strong, row.season.name, room));
    draw_text(draw, look.body, {words_x, at.y + 1.65F * unit}, row.gone ? c.trouble : c.quiet,
              shortened(look.body, words_under(row), room));
    if (hovered) ImGui::SetTooltip("%s", shown_place(row.season.path).c_str());
}

void draw_recents(const Panel& panel, const StartPage& start, const Settings& settings, const LogPart& log) {
    const Look& look = panel.look;
    text_in(look.heading, look.colours.text, "Go on");
    for (std::size_t index = 0; index < settings.recent.size(); ++index) {
        const RecentSeason& season = settings.recent[index];
        const bool open_now = log.book && log.book->file().path() == season.path;
        const bool gone = start.there && index < start.there->size() && !(*start.there)[index];
        draw_recent(panel, {season, index, open_now, gone && !open_now});
    }
}

void draw_practice(const Panel& panel, const StartPage& start) {
    const Look& look = panel.look;
    if (start.practice) {
        ImGui::AlignTextToFramePadding();
        quiet_text(look, fmt::format("Making the practice film: {} %", start.practice->per_cent()));
    } else if (word_button(look, "Learn on a practice film")) {
        panel.actions.push_back(MakePractice{});
    }
}

void draw_ways_in(const Panel& panel, const StartPage& start, const Settings& settings, const LogPart& log) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    const bool known = !settings.recent.empty();
    if (!start.trouble.empty()) wrapped_text(start.trouble, c.trouble);
    if (log.book && log.state().notice.trouble) wrapped_text(log.state().notice.text, c.trouble);
    if (known) {
        draw_recents(panel, start, settings, log);
    } else {
        text_in(look.figure, c.text, "Welcome");
        wrapped_text("Ropeline keeps a season in one file on this computer: films, shots, where the goalie "
                     "stood, what was read and what happened.",
                     c.quiet);
        wrapped_text("New here? The practice film leads through the whole job in ten minutes, and afterwards "
                     "to a season of your own.",
                     c.quiet);
    }
    ImGui::Dummy({1.0F, 0.4F * look.unit});
    if (word_button(look, with_keys("Choose a season's file  ([choose_season])").c_str()))
        panel.actions.push_back(ChooseFile{ChooserFor::season});
    draw_practice(panel, start);
    ImGui::Dummy({1.0F, 0.4F * look.unit});
    wrapped_text("A .season file dropped on this window opens too. Film players, minors above all, only with "
                 "consent, and keep the film private.",
                 c.quiet);
    if (log.book) wrapped_text("[put_down] goes back to the open season.", c.quiet);
}

} // namespace

void draw_start_page(const Panel& panel, StartPage& start, const Settings& settings, const LogPart& log) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const Palette& c = look.colours;
    const float unit = look.unit, gap = 0.5F * unit;
    const float whole = std::min(84.0F * unit, place.width);
    const float left = std::clamp(0.38F * whole, std::min(20.0F * unit, 0.4F * whole), 32.0F * unit);
    const float x = place.x + 0.5F * (place.width - whole);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{1.2F * unit, 0.8F * unit});
    begin_panel("start", {x, place.y, left, place.height}, c.ground, it_scrolls, true);
    draw_ways_in(panel, start, settings, log);
    ImGui::End();
    begin_panel("new season", {x + left + gap, place.y, whole - left - gap, place.height}, c.panel,
                it_scrolls, true);
    ImGui::PopStyleVar();
    ImGui::PushStyleColor(ImGuiCol_FrameBg, c.raised);
    text_in(look.heading, c.text, settings.recent.empty() ? "Log your first game" : "A new season");
    draw_form(panel, start);
    ImGui::PopStyleColor();
    ImGui::End();
}

} // namespace ropeline
