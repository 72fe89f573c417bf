// The bar on top: the three sides, the season, what undo would take back.
#include "desk/panels/header.h"

#include "desk/panels/pieces.h"

#include <fmt/core.h>

namespace ropeline {

namespace {

bool side_word(const Look& look, const char* word, std::string_view key, bool chosen) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 size = text_size(look.strong, word);
    const float key_width = text_size(look.body, key).x;
    const ImVec2 whole{size.x + key_width + 1.6F * look.unit, 2.5F * look.unit};
    const bool clicked = ImGui::InvisibleButton(word, whole);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const float y = at.y + 0.5F * (whole.y - size.y);
    const ImU32 colour = chosen                   ? look.colours.text
                         : ImGui::IsItemHovered() ? look.colours.rope
                                                  : look.colours.quiet;
    draw_text(draw, look.strong, {at.x + 0.5F * look.unit, y}, colour, word);
    draw_text(draw, look.body, {at.x + 0.9F * look.unit + size.x, y}, look.colours.faint, key);
    if (chosen) {
        draw->AddRectFilled({at.x + 0.5F * look.unit, at.y + whole.y - 0.2F * look.unit},
                            {at.x + 0.5F * look.unit + size.x, at.y + whole.y}, look.colours.rope);
    }
    ImGui::SameLine(0.0F, 0.3F * look.unit);
    return clicked;
}

std::string game_words(const LogState& log) {
    const Game* game = chosen_game(log);
    if (!game) return log.season.name;
    return fmt::format("{}   ·   {}  {} – {}", log.season.name, game->date,
                       team_name(log, game->home_team_id), team_name(log, game->away_team_id));
}

} // namespace

void draw_header(const Look& look, const Rect& place, const LogPart& log, Side& side, bool& games_page,
                 const std::string& undo) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0.0F, 0.0F});
    begin_panel("header", place, look.colours.ground);
    ImGui::PopStyleVar();
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const float middle = place.y + 0.5F * place.height;
    const ImVec2 name = draw_text(draw, look.heading, {place.x + look.unit, middle - 0.72F * look.unit},
                                  look.colours.rope, "Ropeline");
    ImGui::SetCursorScreenPos({place.x + name.x + 2.5F * look.unit, place.y});
    if (log.book) {
        if (side_word(look, "Log", shown_chord(chord_of(Command::side_log)), side == Side::log))
            side = Side::log;
        if (side_word(look, "Study", shown_chord(chord_of(Command::side_study)), side == Side::study))
            side = Side::study;
        if (side_word(look, "Season", shown_chord(chord_of(Command::side_season)), side == Side::season))
            side = Side::season;
        const float from = ImGui::GetCursorScreenPos().x + look.unit;

        float right = place.x + place.width - look.unit;
        const std::string words =
            undo.empty() ? with_keys("[key_sheet] all keys") : with_keys("[undo] undoes: ") + undo;
        right -= text_size(look.body, words).x;
        draw_text(draw, look.body, {right, middle - 0.5F * look.unit}, look.colours.faint, words);

        const float key_room = 2.0F * look.unit;
        const std::string game =
            shortened(look.body, game_words(log.state()), right - look.unit - from - key_room);
        draw->PushClipRect({from, place.y}, {right - look.unit, place.y + place.height}, true);
        ImGui::SetCursorScreenPos({from, place.y});
        const float room = right - 2.0F * look.unit - from;
        if (room > 1.0F) {
            if (ImGui::InvisibleButton("game", {room, place.height})) games_page = true;
            if (ImGui::IsItemHovered())
                ImGui::SetTooltip("%s", with_keys("Games and films ([games])").c_str());
        }
        const float game_width =
            draw_text(draw, look.body, {from, middle - 0.5F * look.unit}, look.colours.text, game).x;
        draw_text(draw, look.body, {from + game_width + 0.6F * look.unit, middle - 0.5F * look.unit},
                  look.colours.faint, shown_chord(chord_of(Command::games)));
        draw->PopClipRect();
    }
    ImGui::End();
}

} // namespace ropeline
