// The page of a scorer's list: the columns to pick, the rows as they will be read, the refused ones with why.
#include "desk/panels/scorer_list.h"

#include "season/clock_words.h"
#include "sheet/text.h"

#include "rink/units.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

constexpr std::size_t rows_shown = 3; ///< of the list as it stands, under each column's choice

std::string counted(std::size_t count, const char* one, const char* many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

void draw_head(const Look& look, const ScorerList& page) {
    text_in(look.heading, look.colours.text, fmt::format("Shots from {}", printable(page.name)));
    ImGui::SameLine(0.0F, look.unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    const char* between = page.table.separator == ','   ? "commas"
                          : page.table.separator == ';' ? "semicolons"
                                                        : "tabs";
    quiet_text(
        look,
        fmt::format("{}, {} between the fields{}", counted(page.table.rows.size(), "row", "rows"), between,
                    page.table.encoding == "UTF-8" ? "" : fmt::format(", {} text", page.table.encoding)));
    if (!page.table.trouble.empty()) wrapped_text(page.table.trouble, look.colours.trouble);
}

void draw_switches(const Panel& panel, const ScorerList& page, float right) {
    const Look& look = panel.look;
    const ListReading& reading = page.reading;
    const auto uses = [&](ListColumn one) {
        return std::ranges::find(reading.columns, one) != reading.columns.end();
    };
    if (chip(look, "head", "1",
             reading.has_head ? "the first row names the columns" : "the first row is a shot", false, false))
        panel.actions.push_back(TurnListSwitch{1});
    if (!uses(ListColumn::x) && !uses(ListColumn::y)) return;
    const char* unit = reading.in_feet ? "places in feet" : "places in metres";
    wrap_chip(look, "2", unit, right);
    if (chip(look, "unit", "2", unit, false, false)) panel.actions.push_back(TurnListSwitch{2});
    const char* from = reading.from == PlaceFrom::net ? "from the net: x to its right, y up-ice"
                                                      : "from the middle: x along the ice, y to its left";
    wrap_chip(look, "3", from, right);
    if (chip(look, "from", "3", from, false, false)) panel.actions.push_back(TurnListSwitch{3});
}

void draw_choice(const Panel& panel, const ScorerList& page, std::size_t column) {
    const Look& look = panel.look;
    const ListReading& reading = page.reading;
    const ListColumn holds = reading.columns[column];
    const bool in_hand = page.column == column;
    ImGui::SetNextItemWidth(-1.0F);
    if (in_hand) ImGui::PushStyleColor(ImGuiCol_Border, look.colours.rope);
    if (in_hand) ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 1.5F);
    ImGui::PushStyleColor(ImGuiCol_Text,
                          holds == ListColumn::unused ? look.colours.quiet : look.colours.text);
    const bool open =
        ImGui::BeginCombo("##holds", std::string{label_of(holds)}.c_str(), ImGuiComboFlags_HeightLargest);
    ImGui::PopStyleColor();
    if (in_hand) ImGui::PopStyleVar();
    if (in_hand) ImGui::PopStyleColor();
    if (!open) return;
    for (int value = 0; value < list_columns; ++value) {
        const auto one = static_cast<ListColumn>(value);
        if (ImGui::Selectable(std::string{label_of(one)}.c_str(), one == holds))
            panel.actions.push_back(HoldInColumn{column, one});
    }
    ImGui::EndCombo();
}

void draw_columns(const Panel& panel, ScorerList& page, float height) {
    const Look& look = panel.look;
    const int count = static_cast<int>(std::min<std::size_t>(page.reading.columns.size(), 60));
    if (count == 0) return;
    constexpr ImGuiTableFlags flags =
        ImGuiTableFlags_ScrollX | ImGuiTableFlags_SizingFixedFit | ImGuiTableFlags_BordersInnerV;
    const std::string name = fmt::format("columns {} {}", count, look.unit);
    if (!ImGui::BeginTable(name.c_str(), count, flags, {0.0F, height})) return;
    for (int column = 0; column < count; ++column)
        ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, 9.5F * look.unit);
    ImGui::TableNextRow();
    for (int column = 0; column < count; ++column) {
        ImGui::TableNextColumn();
        ImGui::PushID(column);
        draw_choice(panel, page, static_cast<std::size_t>(column));
        ImGui::PopID();
        if (page.to_column && page.column == static_cast<std::size_t>(column)) ImGui::SetScrollHereX();
    }
    page.to_column = false;
    for (std::size_t row = 0; row < std::min(page.table.rows.size(), rows_shown); ++row) {
        ImGui::TableNextRow();
        for (int column = 0; column < count; ++column) {
            ImGui::TableNextColumn();
            const auto& fields = page.table.rows[row].fields;
            const auto at = static_cast<std::size_t>(column);
            const bool head = row == 0 && page.reading.has_head;
            ImFont* font = head ? look.strong : look.body;
            const std::string text = at < fields.size() ? printable(fields[at].substr(0, 200)) : "";
            text_in(font, head ? look.colours.text : look.colours.quiet,
                    shortened(font, text, ImGui::GetContentRegionAvail().x));
        }
    }
    ImGui::EndTable();
}

std::string place_words(const ListReading& reading, IcePoint at) {
    const double unit = reading.in_feet ? metres_per_foot : 1.0;
    return fmt::format("{:.1f}, {:.1f} {}", at.x_m / unit, at.y_m / unit, reading.in_feet ? "ft" : "m");
}

void cell(const Look& look, const std::string& text, ImU32 colour) {
    ImGui::TableNextColumn();
    const std::string shown = shortened(look.body, text, ImGui::GetContentRegionAvail().x);
    text_in(look.body, colour, shown);
    if (shown != text && ImGui::IsItemHovered()) {
        ImGui::BeginTooltip();
        ImGui::PushTextWrapPos(32.0F * look.unit);
        ImGui::TextUnformatted(text.c_str());
        ImGui::PopTextWrapPos();
        ImGui::EndTooltip();
    }
}

void draw_shot(const Look& look, const LogState& log, const ListReading& reading, const ComingShot& shot,
               double start_s) {
    const Palette& c = look.colours;
    const ListedShot& row = shot.listed;
    ImGui::TableNextRow();
    cell(look, std::to_string(row.line), c.faint);
    cell(look, shot.at ? film_time(shot.at->film_s - start_s) : "no place yet", shot.at ? c.text : c.rope);
    cell(look,
         (row.period ? fmt::format("P{} ", *row.period) : "") +
             (row.clock_s ? clock_words(*row.clock_s) : ""),
         c.text);
    const Goalie* goalie = goalie_of(log, shot.goalie_id);
    cell(look, goalie ? printable(goalie->name) : "", c.text);
    ImGui::TableNextColumn();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_outcome(ImGui::GetWindowDrawList(), {at.x + 0.5F * look.unit, at.y + 0.55F * look.unit},
                 0.75F * look.unit, row.outcome, c);
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 1.2F * look.unit);
    text_in(look.body, row.outcome ? c.text : c.rope, row.outcome ? label_of(*row.outcome) : "open");
    cell(look, row.puck ? place_words(reading, *row.puck) : "–", row.puck ? c.text : c.faint);
    cell(look, printable(row.note), c.quiet);
}

void draw_coming(const Look& look, const LogState& log, const ScorerList& page, double start_s) {
    const auto& shots = page.coming.shots;
    constexpr ImGuiTableFlags flags =
        ImGuiTableFlags_ScrollY | ImGuiTableFlags_RowBg | ImGuiTableFlags_SizingFixedFit;
    const std::string name = fmt::format("coming {}", look.unit);
    if (!ImGui::BeginTable(name.c_str(), 7, flags)) return;
    ImGui::TableSetupScrollFreeze(0, 1);
    struct Head {
        const char* name;
        float units;
    };
    for (const Head& head : {Head{"line", 3.0F}, Head{"on the film", 6.2F}, Head{"clock", 4.8F},
                             Head{"goalie", 9.0F}, Head{"outcome", 7.8F}, Head{"puck at", 6.8F}}) {
        ImGui::TableSetupColumn(head.name, ImGuiTableColumnFlags_WidthFixed, head.units * look.unit);
    }
    ImGui::TableSetupColumn("note", ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableHeadersRow();
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(shots.size()));
    while (clipper.Step()) {
        for (int row = clipper.DisplayStart; row < clipper.DisplayEnd; ++row)
            draw_shot(look, log, page.reading, shots[static_cast<std::size_t>(row)], start_s);
    }
    ImGui::EndTable();
}

void draw_left_out(const Look& look, const ComingIn& coming) {
    const Palette& c = look.colours;
    if (coming.refused.empty() && coming.there.empty()) {
        wrapped_text("Every row can be read.", c.quiet);
        return;
    }
    constexpr std::size_t most = 500; // nobody reads further before mending the list
    for (std::size_t index = 0; index < std::min(coming.refused.size(), most); ++index) {
        const RefusedRow& row = coming.refused[index];
        wrapped_text(fmt::format("line {}: {}", row.line, printable(with_keys(row.why))), c.trouble);
    }
    for (std::size_t index = 0; index < std::min(coming.there.size(), most); ++index) {
        const RowThere& row = coming.there[index];
        wrapped_text(fmt::format("line {}: already there, {}", row.line, row.where), c.quiet);
    }
    const std::size_t longest = std::max(coming.refused.size(), coming.there.size());
    if (longest > most) wrapped_text(fmt::format("… and {} more", longest - most), c.quiet);
}

/// Names that mean nobody, or several: who is meant, or a new goalie.
void draw_names(const Panel& panel, const LogState& log, const ComingIn& coming) {
    const Look& look = panel.look;
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    constexpr std::size_t most = 20; // more of them are of a column that holds something else
    for (std::size_t index = 0; index < std::min(coming.names.size(), most); ++index) {
        const NameAsked& asked = coming.names[index];
        ImGui::PushID(static_cast<int>(index));
        wrapped_text(fmt::format("Who is \"{}\"?", printable(asked.written)), look.colours.text);
        bool first = true;
        for (const Goalie& goalie : log.goalies) {
            const bool may_be = std::ranges::find(asked.meant, goalie.id) != asked.meant.end();
            if (!asked.meant.empty() && !may_be) continue;
            const std::string whole =
                may_be ? fmt::format("{}, {}", goalie.name, team_name(log, goalie.team_id)) : goalie.name;
            const std::string name = shortened(look.body, printable(whole), 20.0F * look.unit);
            if (!first) wrap_chip(look, "", name, right);
            first = false;
            ImGui::PushID(goalie.id.c_str());
            if (chip(look, "goalie", "", name, false, may_be))
                panel.actions.push_back(TellName{asked.written, goalie.id});
            ImGui::PopID();
        }
        const std::string add = "add as a new goalie";
        if (!first) wrap_chip(look, "", add, right);
        if (chip(look, "add", "", add, false, asked.meant.empty()))
            panel.actions.push_back(TellName{asked.written, {}});
        ImGui::PopID();
        ImGui::Dummy({1.0F, 0.2F * look.unit});
    }
    if (coming.names.size() > most)
        wrapped_text(fmt::format("… and {} more names", coming.names.size() - most), look.colours.quiet);
}

} // namespace

void draw_scorer_list(const Panel& panel, const LogState& log, ScorerList& page, double start_s) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const Palette& c = look.colours;
    begin_panel("scorer list", place, c.panel);
    const float right = place.x + place.width - look.unit;
    draw_head(look, page);
    draw_switches(panel, page, right);
    text_in(look.strong, c.text, "What each column holds");
    draw_columns(panel, page, 8.6F * look.unit);
    const ComingIn& coming = page.coming;
    const std::string words = coming.shots.empty()
                                  ? std::string{"No shot can come in"}
                                  : fmt::format("Bring in {}", counted(coming.shots.size(), "shot", "shots"));
    if (word_button(look, words.c_str(), !coming.shots.empty()) && !coming.shots.empty())
        panel.actions.push_back(Press{Command::take_shot});
    ImGui::SameLine(0.0F, look.unit);
    ImGui::AlignTextToFramePadding();
    const auto unplaced =
        std::ranges::count_if(coming.shots, [](const ComingShot& shot) { return !shot.at; });
    quiet_text(look,
               fmt::format("{} refused, {} already there{}", coming.refused.size(), coming.there.size(),
                           unplaced > 0 ? fmt::format("; {} with no place on the film yet", unplaced) : ""));
    const float gap = look.unit;
    const float room = ImGui::GetContentRegionAvail().x;
    const float left_out = std::clamp(0.3F * room, 18.0F * look.unit, 34.0F * look.unit);
    ImGui::BeginChild("coming", {room - left_out - gap, 0.0F});
    draw_coming(look, log, page, start_s);
    ImGui::EndChild();
    ImGui::SameLine(0.0F, gap);
    ImGui::BeginChild("left out", {left_out, 0.0F});
    draw_names(panel, log, coming);
    draw_left_out(look, coming);
    ImGui::EndChild();
    ImGui::End();
}

} // namespace ropeline
