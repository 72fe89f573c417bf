// The Season side: per goalie what each band gave up, with intervals, and every shot by depth and outcome.
#include "desk/panels/season_side.h"

#include "desk/paint_scene.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

/// ".912", as save percentages are written; "–" when there was no shot on goal.
std::string share_words(const std::optional<double>& share) {
    if (!share) return "–";
    const std::string digits = fmt::format("{:.3f}", *share);
    return digits.starts_with("0") ? digits.substr(1) : digits;
}

void number_cell(const std::string& words, ImU32 colour, ImFont* font) {
    ImGui::TableNextColumn();
    const float room = ImGui::GetContentRegionAvail().x;
    const float wide = text_size(font, words).x;
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + std::max(0.0F, room - wide));
    text_in(font, colour, words);
}

/// The interval as a bar between .700 and 1.000, its middle mark the share itself.
void interval_cell(const Look& look, const Counts& counts) {
    ImGui::TableNextColumn();
    const Palette& c = look.colours;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float wide = ImGui::GetContentRegionAvail().x;
    const float tall = look.unit;
    ImGui::Dummy({wide, tall});
    const auto interval = counts.interval();
    if (!interval) return;
    const auto x_of = [&](double share) {
        return at.x + wide * static_cast<float>(std::clamp((share - 0.7) / 0.3, 0.0, 1.0));
    };
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const float y = at.y + 0.55F * tall;
    draw->AddLine({at.x, y}, {at.x + wide, y}, c.edge);
    draw->AddRectFilled({x_of(interval->low), y - 0.16F * tall}, {x_of(interval->high), y + 0.16F * tall},
                        faded(c.save, 0.45F), 2.0F);
    const float middle = x_of(*counts.save_percentage());
    draw->AddRectFilled({middle - 1.5F, y - 0.4F * tall}, {middle + 1.5F, y + 0.4F * tall}, c.text);
    if (ImGui::IsItemHovered()) {
        ImGui::SetTooltip("%s to %s: Wilson's 95 %% interval of %d saves on %d shots on goal. The bar runs "
                          "from .700 to 1.000.",
                          share_words(interval->low).c_str(), share_words(interval->high).c_str(),
                          counts.saves(), counts.on_goal);
    }
}

void count_row(const Look& look, std::string_view name, const Counts& counts, std::optional<Band> band,
               bool strong) {
    ImFont* font = strong ? look.strong : look.body;
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    if (band) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::GetWindowDrawList()->AddRectFilled({at.x, at.y + 0.1F * look.unit},
                                                  {at.x + 0.3F * look.unit, at.y + look.unit},
                                                  look.colours.bands[static_cast<int>(*band)]);
        ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 0.6F * look.unit);
    }
    text_in(font, look.colours.text, name);
    const ImU32 plain = counts.logged == 0 ? look.colours.faint : look.colours.text;
    number_cell(std::to_string(counts.logged), plain, font);
    number_cell(std::to_string(counts.on_goal), plain, font);
    number_cell(std::to_string(counts.goals), plain, font);
    number_cell(share_words(counts.save_percentage()), plain, look.strong);
    const auto interval = counts.interval();
    number_cell(interval ? share_words(interval->low) + " – " + share_words(interval->high) : "",
                look.colours.quiet, font);
    if (ImGui::TableGetColumnCount() > 6) interval_cell(look, counts);
}

/// "Depth: 61 right depth, 12 sat back. Calls: 51 read it, 9 misread it.", after review; empty without either.
std::string decisions_words(const GoalieTable& table) {
    std::string depth;
    for (std::size_t verdict = 0; verdict < table.verdicts.reviewed.size(); ++verdict) {
        const int count = table.verdicts.reviewed[verdict];
        if (count > 0)
            depth += fmt::format("{}{} {}", depth.empty() ? "Depth: " : ", ", count,
                                 label_of(static_cast<Verdict>(verdict)));
    }
    if (!depth.empty()) depth += ". ";
    const auto [read_it, misread_it] = table.calls;
    if (read_it + misread_it == 0) return depth;
    return depth + fmt::format("Calls: {} read it, {} misread it.", read_it, misread_it);
}

void draw_goalie(const Look& look, const GoalieTable& table) {
    text_in(look.heading, look.colours.text, table.goalie.empty() ? "No goalie named" : table.goalie);
    ImGui::SameLine(0.0F, 0.6F * look.unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    quiet_text(look, table.team);
    ImGui::PushID(table.goalie_id.c_str());
    const bool room_for_bars = ImGui::GetContentRegionAvail().x > 40.0F * look.unit;
    if (ImGui::BeginTable("bands", room_for_bars ? 7 : 6,
                          ImGuiTableFlags_RowBg | ImGuiTableFlags_SizingFixedFit)) {
        ImGui::TableSetupColumn("band", ImGuiTableColumnFlags_WidthFixed, 8.2F * look.unit);
        for (const char* title : {"logged", "on goal", "goals", "save %"}) {
            ImGui::TableSetupColumn(title, ImGuiTableColumnFlags_WidthFixed, 3.5F * look.unit);
        }
        ImGui::TableSetupColumn("95 % interval", ImGuiTableColumnFlags_WidthFixed, 6.4F * look.unit);
        if (room_for_bars) ImGui::TableSetupColumn(".700 to 1.000", ImGuiTableColumnFlags_WidthStretch);
        ImGui::TableHeadersRow();
        for (int index = 0; index < 4; ++index) {
            const auto band = static_cast<Band>(index);
            count_row(look, label_of(band), table.by_band[static_cast<std::size_t>(index)], band, false);
        }
        if (table.without_depth.logged > 0)
            count_row(look, "no depth yet", table.without_depth, std::nullopt, false);
        count_row(look, "all", table.total, std::nullopt, true);
        ImGui::EndTable();
    }
    if (const std::string words = decisions_words(table); !words.empty())
        wrapped_text(words, look.colours.quiet);
    ImGui::PopID();
    ImGui::Dummy({1.0F, 0.6F * look.unit});
}

void draw_goalie_choice(const Look& look, SeasonPart& part) {
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    if (chip(look, "all", "", "all goalies", part.goalie.empty(), false)) part.goalie.clear();
    for (const GoalieTable& table : part.tables) {
        if (table.goalie_id.empty()) continue;
        wrap_chip(look, "", table.goalie, right);
        ImGui::PushID(table.goalie_id.c_str());
        if (chip(look, "goalie", "", table.goalie, part.goalie == table.goalie_id, false))
            part.goalie = table.goalie_id;
        ImGui::PopID();
    }
}

} // namespace

void draw_season_side(const Panel& panel, const Season& season, SeasonPart& part) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const float gap = 0.5F * look.unit;
    const float half = std::max(0.5F * (place.width - gap), std::min(33.0F * look.unit, 0.62F * place.width));

    begin_panel("season tables", {place.x, place.y, half, place.height}, look.colours.panel, it_scrolls);
    text_in(look.heading, look.colours.text, season.name);
    quiet_text(look, season.league);
    ImGui::Spacing();
    if (part.tables.empty())
        wrapped_text("No shot is logged yet. Each goalie's save percentage by depth band stands here once "
                     "there are some.",
                     look.colours.faint);
    else
        wrapped_text(part.sentence, look.colours.text);
    ImGui::Spacing();
    for (const GoalieTable& table : part.tables) {
        if (part.goalie.empty() || part.goalie == table.goalie_id) draw_goalie(look, table);
    }
    wrapped_text("Save percentage: saves of shots on goal, with its 95 % interval. All shots stand in one "
                 "table here, clear "
                 "shots and passes, easy and hard: it does not say what a depth is worth. The sentence at "
                 "the top compares like "
                 "with like.",
                 look.colours.faint);
    ImGui::End();

    const float rest = std::max(1.0F, place.width - half - gap);
    begin_panel("season chart", {place.x + half + gap, place.y, rest, place.height}, look.colours.panel,
                it_scrolls);
    draw_goalie_choice(look, part);
    ImGui::Spacing();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float room = ImGui::GetContentRegionAvail().x;
    const float used = paint_scene(ImGui::GetWindowDrawList(), look, at, room, part.chart);
    ImGui::Dummy({room, used});
    ImGui::End();
}

} // namespace ropeline
