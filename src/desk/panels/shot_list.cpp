// The table of the game's shots: a small one beside the film, and the same on the whole page.
#include "desk/panels/shot_list.h"

#include "desk/panels/list_cells.h"
#include "sheet/shot_words.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <numeric>

namespace ropeline {

namespace {

constexpr float narrow_list =
    19.0F; ///< units: below, there are no heads, and outcomes are marks without words

/// The field that finds shots, how many it leaves, and the way to the whole page.
void draw_strip(const Panel& panel, const LogState& log, ListPart& list, float width) {
    const Look& look = panel.look;
    const std::string filter = log.list.filter;
    const bool all = filter.empty() && of_one_game(log.list.only).asks_nothing();
    const std::string count =
        all ? fmt::format("{} shot{}", log.shots.size(), log.shots.size() == 1 ? "" : "s")
            : fmt::format("{} of {}", list.listed.size(), log.shots.size());
    const std::string_view turn = list.whole_page ? "back to the film" : "larger";
    const std::string chord = shown_chord(chord_of(Command::whole_list));
    const float gap = 0.5F * look.unit;
    const float turn_width = text_size(look.body, turn).x + text_size(look.body, chord).x + 1.5F * look.unit;
    const float beside = width - text_size(look.body, count).x - turn_width - 3.0F * gap;
    const bool narrow = beside < 7.0F * look.unit; // then the field has a line to itself
    const float field = narrow ? width : std::min(beside, 30.0F * look.unit);
    ImGui::SetNextItemWidth(field);
    if (list.find) {
        ImGui::SetKeyboardFocusHere();
        list.find = false;
    }
    std::string text = filter;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2{0.5F * look.unit, 0.2F * look.unit});
    const std::string hint =
        with_keys(field > 17.0F * look.unit ? "find: goalie, verdict, outcome, p2, open … ([find_shots])"
                                            : "find ([find_shots])");
    const bool entered =
        ImGui::InputTextWithHint("##find", hint.c_str(), &text, ImGuiInputTextFlags_EnterReturnsTrue);
    ImGui::PopStyleVar();
    list.typing = ImGui::IsItemActive();
    if (ImGui::IsItemHovered() && !list.typing)
        ImGui::SetTooltip("Words in any order, each the beginning of a goalie's name, a band, a read, a "
                          "verdict,\nan outcome, a situation or a strength; p2 is the second period, open a "
                          "card not full yet.");
    // Esc puts back what the field had when it was entered; here it means: all shots again.
    const bool left = ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape));
    if (text != filter && !left) panel.actions.push_back(FilterList{text});
    if (entered && !list.listed.empty()) {
        const auto chosen = chosen_index(log);
        const bool among = chosen && std::ranges::find(list.listed, *chosen) != list.listed.end();
        panel.actions.push_back(PickShot{among ? *chosen : list.listed.front()});
    }
    if (narrow) {
        ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    } else {
        ImGui::SameLine(0.0F, gap);
    }
    text_in(look.body, all ? look.colours.quiet : look.colours.rope, count);
    ImGui::SameLine(0.0F, gap);
    if (narrow) ImGui::SetCursorPosY(ImGui::GetCursorPosY() - 0.25F * look.unit);
    if (chip(look, "whole", chord, turn, false, false)) list.whole_page = !list.whole_page;
}

/// What the Season side asks for, while it is asked here too; a click ends it.
void draw_season_filter_here(const Panel& panel, const LogState& log, float room) {
    const FactFilter only = of_one_game(log.list.only);
    if (only.asks_nothing()) return;
    const Goalie* goalie = goalie_of(log, only.goalie_id);
    const std::string words = fmt::format("only {}", filter_words(only, goalie ? goalie->name : ""));
    const bool clicked = chip(panel.look, "only", "",
                              shortened(panel.look.body, words, room - 2.0F * panel.look.unit), true, false);
    if (ImGui::IsItemHovered())
        ImGui::SetTooltip("%s, as the Season side asks; a click: all shots again", words.c_str());
    if (clicked) panel.actions.push_back(FilterFacts{});
}

/// A head that sorts by its column, with an arrow on the one in force.
void draw_heads(const Panel& panel, const ListOrder& order, const FittingColumns& fitting) {
    const Look& look = panel.look;
    ImGui::TableNextRow(ImGuiTableRowFlags_Headers);
    for (const ShotColumn column : fitting.columns) {
        ImGui::TableNextColumn();
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float wide = std::max(1.0F, ImGui::GetContentRegionAvail().x);
        const bool sorted = order.by == column;
        const bool one_sign = column == ShotColumn::number; // its arrow may stand in the gap
        const float arrow = sorted && !one_sign ? 0.8F * look.unit : 0.0F;
        const std::string label = shortened(look.body, std::string{label_of(column)}, wide - arrow);
        ImGui::PushID(static_cast<int>(column));
        if (ImGui::InvisibleButton("head", {wide, look.unit})) panel.actions.push_back(SortList{column});
        const bool hovered = ImGui::IsItemHovered();
        ImGui::PopID();
        ImDrawList* draw = ImGui::GetWindowDrawList();
        const ImU32 colour = sorted || hovered ? look.colours.rope : look.colours.quiet;
        const float end = at.x + draw_text(draw, look.body, at, colour, label).x;
        if (sorted) {
            const float way = order.falling ? -1.0F : 1.0F;
            const ImVec2 middle{end + 0.45F * look.unit, at.y + 0.55F * look.unit};
            const float r = 0.26F * look.unit;
            draw->AddTriangleFilled({middle.x - r, middle.y + way * r}, {middle.x + r, middle.y + way * r},
                                    {middle.x, middle.y - way * r}, colour);
        }
        if (hovered)
            ImGui::SetTooltip("%s: sort by this; again: the other way round%s",
                              std::string{label_of(column)}.c_str(),
                              with_keys(" ([sort_list], [turn_list])").c_str());
    }
}

/// Scrolls so that the shot picked last is in sight.
void keep_in_sight(const LogState& log, ListPart& list, float row_px, float heads_px) {
    const auto chosen = chosen_index(log);
    if (list.scrolled_to == chosen) return;
    list.scrolled_to = chosen;
    const auto here = chosen ? std::ranges::find(list.listed, *chosen) : list.listed.end();
    if (here == list.listed.end()) return;
    const float top = row_px * static_cast<float>(here - list.listed.begin());
    const float room = ImGui::GetWindowHeight() - heads_px;
    if (top < ImGui::GetScrollY()) ImGui::SetScrollY(top);
    if (top + row_px > ImGui::GetScrollY() + room) ImGui::SetScrollY(top + row_px - room);
}

void draw_row(const Panel& panel, const LogState& log, ListPart& list, std::size_t index,
              const FittingColumns& fitting, bool marks_alone) {
    const ShotEntry& entry = log.shots[index];
    const bool chosen = entry.shot.id == log.selection.shot_id();
    ImGui::TableNextRow();
    ImGui::PushID(static_cast<int>(index));
    for (const ShotColumn column : fitting.columns) {
        ImGui::TableNextColumn();
        if (column == fitting.columns.front()) {
            const ImVec2 at = ImGui::GetCursorPos();
            constexpr ImGuiSelectableFlags flags =
                ImGuiSelectableFlags_SpanAllColumns | ImGuiSelectableFlags_AllowItemOverlap;
            if (ImGui::Selectable("##row", chosen, flags, {0.0F, panel.look.unit}))
                panel.actions.push_back(PickShot{index});
            if (list.whole_page && ImGui::IsItemHovered() &&
                ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left))
                panel.actions.push_back(Press{Command::take_shot});
            if (ImGui::IsItemHovered() && has_no_place(log, entry.shot))
                ImGui::SetTooltip(
                    "%s",
                    with_keys("No place on the film yet: step to its frame, [shot_is_here] puts it there.")
                        .c_str());
            ImGui::SetCursorPos(at);
        }
        draw_list_cell(panel, log, list, {index, column, fitting.short_verdict, marks_alone});
    }
    ImGui::PopID();
}

void draw_table(const Panel& panel, const LogState& log, ListPart& list, float room, bool heads) {
    const float unit = panel.look.unit;
    const bool narrow = room < narrow_list * unit;
    auto wide = list_widths(panel.look, log, list.whole_page ? 22.0F * unit : 10.0F * unit);
    if (narrow) wide.at(static_cast<std::size_t>(ShotColumn::outcome)) = 1.2F * unit; // its mark alone
    ImVec2 between = ImGui::GetStyle().CellPadding;
    if (!list.whole_page) between.x = 0.3F * unit;
    ImGui::PushStyleVar(ImGuiStyleVar_CellPadding, between);
    const float padding = 2.0F * between.x;
    auto whole = wide;
    for (float& one : whole)
        one += padding;
    const float short_verdict = 2.0F * unit;
    const FittingColumns fitting =
        columns_in(room - ImGui::GetStyle().ScrollbarSize, whole, short_verdict + padding, log.asks);
    constexpr ImGuiTableFlags flags = ImGuiTableFlags_ScrollY | ImGuiTableFlags_RowBg |
                                      ImGuiTableFlags_SizingFixedFit | ImGuiTableFlags_PadOuterX;
    // A table keeps the widths it was first given: other widths make another table.
    const std::string name = fmt::format("shots {} {:.0f}", fitting.columns.size(),
                                         std::accumulate(wide.begin(), wide.end(), 0.0F));
    const bool open = ImGui::BeginTable(name.c_str(), static_cast<int>(fitting.columns.size()), flags);
    ImGui::PopStyleVar();
    if (!open) return;
    if (heads) ImGui::TableSetupScrollFreeze(0, 1);
    for (const ShotColumn column : fitting.columns) {
        const bool stretches = column == fitting.columns.back();
        const bool short_one = column == ShotColumn::verdict && fitting.short_verdict;
        ImGui::TableSetupColumn(
            "", stretches ? ImGuiTableColumnFlags_WidthStretch : ImGuiTableColumnFlags_WidthFixed,
            stretches   ? 1.0F
            : short_one ? short_verdict
                        : wide.at(static_cast<std::size_t>(column)));
    }
    if (heads) draw_heads(panel, log.list, fitting);
    const float row_px = unit + 2.0F * ImGui::GetStyle().CellPadding.y;
    keep_in_sight(log, list, row_px, heads ? row_px : 0.0F);
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(list.listed.size()), row_px);
    while (clipper.Step()) {
        for (int row = clipper.DisplayStart; row < clipper.DisplayEnd; ++row)
            draw_row(panel, log, list, list.listed[static_cast<std::size_t>(row)], fitting, narrow);
    }
    ImGui::EndTable();
}

void draw_list(const Panel& panel, const LogState& log, ListPart& list) {
    const Look& look = panel.look;
    const Palette& c = look.colours;
    const float room = panel.place.width - 2.0F * ImGui::GetStyle().WindowPadding.x;
    draw_strip(panel, log, list, room);
    draw_season_filter_here(panel, log, room);
    const std::size_t found = list.found.size();
    if (found > 0) {
        const std::string words =
            fmt::format("put {} shot{} where the clock says", found, found == 1 ? "" : "s");
        if (chip(look, "found", shown_chord(chord_of(Command::shot_is_here)), words, false, true))
            panel.actions.push_back(Press{Command::shot_is_here});
    }
    if (list.listed.empty()) {
        wrapped_text(log.list.filter.empty()
                         ? std::string{"No shot of this game is of these."}
                         : with_keys("No shot of this game has all these words. [put_down] clears them."),
                     c.quiet);
        return;
    }
    const bool heads = panel.place.height >= 9.0F * look.unit && room >= narrow_list * look.unit;
    draw_table(panel, log, list, room, heads);
}

/// The choices of the card line in focus, for the shot that is picked: the number keys choose.
void draw_choice_line(const Panel& panel, const LogState& log) {
    const Look& look = panel.look;
    const float right = panel.place.x + panel.place.width - look.unit;
    if (!log.notice.text.empty()) {
        wrapped_text(with_keys(log.notice.text),
                     log.notice.trouble ? look.colours.trouble : look.colours.quiet);
        return;
    }
    const ShotEntry* entry = chosen_shot(log);
    if (!entry || log.field == CardField::cues) {
        quiet_text(
            look,
            with_keys("[previous_shot] and [next_shot] pick a shot; a click on a read, outcome, situation, "
                      "strength or goalie changes it."));
        return;
    }
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    text_in(look.strong, look.colours.rope,
            fmt::format("shot {}, {}", *chosen_index(log) + 1, label_of(log.field)));
    const auto choices = choices_of(log.field);
    for (std::size_t index = 0; index < choices.size(); ++index) {
        const std::string key = std::to_string(index + 1);
        wrap_chip(look, key, choices[index], right);
        ImGui::PushID(static_cast<int>(index));
        const bool chosen = chosen_in(entry->shot, log.field) == static_cast<int>(index) + 1;
        if (chip(look, "choice", key, choices[index], chosen, true))
            panel.actions.push_back(ChooseIn{log.field, static_cast<int>(index) + 1});
        ImGui::PopID();
    }
}

} // namespace

void draw_shot_list(const Panel& panel, const LogState& log, ListPart& list) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    // Between card and plan on a small window there is room for two rows: no air and no heads then.
    const bool low = place.height < 9.0F * look.unit;
    ImVec2 padding = ImGui::GetStyle().WindowPadding;
    if (low) padding.y = 0.25F * look.unit;
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, padding);
    begin_panel("list", place, look.colours.panel);
    ImGui::PopStyleVar();
    if (log.shots.empty()) {
        list.typing = false;
        text_in(look.strong, look.colours.quiet, "Shots");
        wrapped_text("Every shot you log stands here, in film order. A list of shots from a scorer (.csv) "
                     "dropped on the desk fills it.",
                     look.colours.faint);
    } else {
        draw_list(panel, log, list);
        draw_open_choices(panel, log, list);
    }
    ImGui::End();
}

void draw_list_page(const Panel& panel, const LogState& log, ListPart& list) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const float foot = 2.4F * look.unit;
    begin_panel("list page", {place.x, place.y, place.width, place.height - foot}, look.colours.panel);
    draw_list(panel, log, list);
    draw_open_choices(panel, log, list);
    ImGui::End();
    begin_panel("list choices", {place.x, place.y + place.height - foot, place.width, foot},
                look.colours.ground);
    draw_choice_line(panel, log);
    ImGui::End();
}

} // namespace ropeline
