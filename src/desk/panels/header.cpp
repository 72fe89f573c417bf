// The bar on top: the three sides, the season, what undo would take back.
#include "desk/panels/header.h"

#include "desk/state/window_title.h"

#include <algorithm>

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

/// The program's name: a click shows the start page. Out: where it ends.
float draw_name(const Panel& panel) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const float wide = text_size(look.heading, "Ropeline").x + 2.0F * look.unit;
    ImGui::SetCursorScreenPos({place.x, place.y});
    if (ImGui::InvisibleButton("name", {wide, place.height}))
        panel.actions.push_back(Press{Command::start_page});
    const bool hovered = ImGui::IsItemHovered();
    if (hovered)
        ImGui::SetTooltip("%s", with_keys("Start page: other seasons, a new one ([start_page])").c_str());
    draw_text(draw, look.heading, {place.x + look.unit, place.y + 0.5F * place.height - 0.72F * look.unit},
              hovered ? look.colours.text : look.colours.rope, "Ropeline");
    return place.x + wide;
}

void draw_sides(const Panel& panel, const HeaderWords& words) {
    const Look& look = panel.look;
    struct Word {
        const char* word;
        Command command;
        Side side;
    };
    for (const Word& one :
         {Word{"Log", Command::side_log, Side::log}, Word{"Study", Command::side_study, Side::study},
          Word{"Season", Command::side_season, Side::season}}) {
        if (side_word(look, one.word, shown_chord(chord_of(one.command)),
                      !words.start && words.side == one.side)) {
            if (words.start) panel.actions.push_back(Press{Command::put_down});
            panel.actions.push_back(Press{one.command});
        }
    }
}

/// What undo would take back, at the right end. Out: where it begins.
float draw_undo(const Panel& panel, const std::string& undo, float right) {
    const Look& look = panel.look;
    const bool none = undo.empty();
    const std::string words = none ? with_keys("[key_sheet] all keys") : with_keys("[undo] undoes: ") + undo;
    const float wide = text_size(look.body, words).x;
    ImGui::SetCursorScreenPos({right - wide, panel.place.y});
    if (ImGui::InvisibleButton("undo", {std::max(1.0F, wide), panel.place.height}))
        panel.actions.push_back(Press{none ? Command::key_sheet : Command::undo});
    draw_text(ImGui::GetWindowDrawList(), look.body,
              {right - wide, panel.place.y + 0.5F * (panel.place.height - look.unit)},
              ImGui::IsItemHovered() ? look.colours.rope : look.colours.faint, words);
    return right - wide;
}

/// From the season to learn on the way leads to one's own. Out: where the button begins.
float draw_make_own(const Panel& panel, float right) {
    const Look& look = panel.look;
    constexpr const char* words = "Make your own season";
    const float wide = text_size(look.body, words).x + look.unit;
    ImGui::SetCursorScreenPos({right - wide, panel.place.y + 0.45F * look.unit});
    if (word_button(look, words, true)) panel.actions.push_back(MakeOwn{});
    return right - wide - look.unit;
}

void draw_season_words(const Panel& panel, const LogState& log, float from, float right) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const float room = right - from - look.unit;
    if (room <= 4.0F * look.unit) return;
    ImDrawList* draw = ImGui::GetWindowDrawList();
    ImGui::SetCursorScreenPos({from, place.y});
    if (ImGui::InvisibleButton("game", {room, place.height})) panel.actions.push_back(Press{Command::games});
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", with_keys("Games and films ([games])").c_str());
    const std::string game = game_words(log);
    const std::string whole = game.empty() ? log.season.name : log.season.name + "   ·   " + game;
    const float y = place.y + 0.5F * (place.height - look.unit);
    const std::string words = shortened(look.body, whole, room - 2.0F * look.unit);
    const float wide = draw_text(draw, look.body, {from, y}, look.colours.text, words).x;
    draw_text(draw, look.body, {from + wide + 0.6F * look.unit, y}, look.colours.faint,
              shown_chord(chord_of(Command::games)));
}

} // namespace

void draw_header(const Panel& panel, const LogPart& log, const HeaderWords& words) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0.0F, 0.0F});
    begin_panel("header", place, look.colours.ground);
    ImGui::PopStyleVar();
    const float name_end = draw_name(panel);
    if (log.book) {
        ImGui::SetCursorScreenPos({name_end + 0.5F * look.unit, place.y});
        draw_sides(panel, words);
        const float from = ImGui::GetCursorScreenPos().x + look.unit;
        float right = draw_undo(panel, words.undo, place.x + place.width - look.unit) - look.unit;
        if (words.practice && !words.start) right = draw_make_own(panel, right);
        draw_season_words(panel, log.state(), from, right);
    }
    ImGui::End();
}

} // namespace ropeline
