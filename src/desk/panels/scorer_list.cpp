// The page of a scorer's list: the columns to pick, the rows as they will be read, the refused ones with why.
#include "desk/panels/ui.h"

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

void draw_head(App& app, const ListPage& page) {
    const Look& look = app.look;
    text_in(look.heading, look.colours.text, fmt::format("Shots from {}", printable(page.name)));
    ImGui::SameLine(0.0F, look.unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    const char* between = page.table.separator == ','   ? "commas"
                          : page.table.separator == ';' ? "semicolons"
                                                        : "tabs";
    quiet_text(
        app,
        fmt::format("{}, {} between the fields{}", counted(page.table.rows.size(), "row", "rows"), between,
                    page.table.encoding == "UTF-8" ? "" : fmt::format(", {} text", page.table.encoding)));
    if (!page.table.trouble.empty()) wrapped_text(app, page.table.trouble, look.colours.trouble);
}

void draw_switches(App& app, const ListPage& page, float right) {
    const ListReading& reading = page.reading;
    const auto uses = [&](ListColumn one) {
        return std::ranges::find(reading.columns, one) != reading.columns.end();
    };
    if (chip(app, "head", "1",
             reading.has_head ? "the first row names the columns" : "the first row is a shot", false, false))
        turn_list_switch(app, 1);
    if (!uses(ListColumn::x) && !uses(ListColumn::y)) return;
    const char* unit = reading.in_feet ? "places in feet" : "places in metres";
    wrap_chip(app, "2", unit, right);
    if (chip(app, "unit", "2", unit, false, false)) turn_list_switch(app, 2);
    const char* from = reading.from == PlaceFrom::net ? "from the net: x to its right, y up-ice"
                                                      : "from the middle: x along the ice, y to its left";
    wrap_chip(app, "3", from, right);
    if (chip(app, "from", "3", from, false, false)) turn_list_switch(app, 3);
}

void draw_choice(App& app, std::size_t column) {
    const ListReading& reading = app.list_page->reading;
    const ListColumn holds = reading.columns[column];
    const bool in_hand = app.list_page->column == column;
    ImGui::SetNextItemWidth(-1.0F);
    if (in_hand) ImGui::PushStyleColor(ImGuiCol_Border, app.look.colours.rope);
    if (in_hand) ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 1.5F);
    ImGui::PushStyleColor(ImGuiCol_Text,
                          holds == ListColumn::unused ? app.look.colours.quiet : app.look.colours.text);
    const bool open =
        ImGui::BeginCombo("##holds", std::string{label_of(holds)}.c_str(), ImGuiComboFlags_HeightLargest);
    ImGui::PopStyleColor();
    if (in_hand) ImGui::PopStyleVar();
    if (in_hand) ImGui::PopStyleColor();
    if (!open) return;
    for (int value = 0; value < list_columns; ++value) {
        const auto one = static_cast<ListColumn>(value);
        if (ImGui::Selectable(std::string{label_of(one)}.c_str(), one == holds))
            hold_in_column(app, column, one);
    }
    ImGui::EndCombo();
}

void draw_columns(App& app, float height) {
    ListPage& page = *app.list_page;
    const Look& look = app.look;
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
        draw_choice(app, static_cast<std::size_t>(column));
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

void cell(const App& app, const std::string& text, ImU32 colour) {
    ImGui::TableNextColumn();
    const std::string shown = shortened(app.look.body, text, ImGui::GetContentRegionAvail().x);
    text_in(app.look.body, colour, shown);
    if (shown != text && ImGui::IsItemHovered()) {
        ImGui::BeginTooltip();
        ImGui::PushTextWrapPos(32.0F * app.look.unit);
        ImGui::TextUnformatted(text.c_str());
        ImGui::PopTextWrapPos();
        ImGui::EndTooltip();
    }
}

void draw_shot(const App& app, const ComingShot& shot, double start_s) {
    const Look& look = app.look;
    const Palette& c = look.colours;
    const ListedShot& row = shot.listed;
    ImGui::TableNextRow();
    cell(app, std::to_string(row.line), c.faint);
    cell(app, shot.at ? film_time(shot.at->film_s - start_s) : "no place yet", shot.at ? c.text : c.rope);
    cell(app,
         (row.period ? fmt::format("P{} ", *row.period) : "") +
             (row.clock_s ? clock_words(*row.clock_s) : ""),
         c.text);
    const Goalie* goalie = goalie_of(app.book->state(), shot.goalie_id);
    cell(app, goalie ? printable(goalie->name) : "", c.text);
    ImGui::TableNextColumn();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_outcome(ImGui::GetWindowDrawList(), {at.x + 0.5F * look.unit, at.y + 0.55F * look.unit},
                 0.75F * look.unit, row.outcome, c);
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 1.2F * look.unit);
    text_in(look.body, row.outcome ? c.text : c.rope, row.outcome ? label_of(*row.outcome) : "open");
    cell(app, row.puck ? place_words(app.list_page->reading, *row.puck) : "–", row.puck ? c.text : c.faint);
    cell(app, printable(row.note), c.quiet);
}

void draw_coming(App& app) {
    const Look& look = app.look;
    const auto& shots = app.list_page->coming.shots;
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
    const auto frames = frames_of(app);
    const double start_s = frames ? frames->seconds_of(FrameIndex{0}) : 0.0;
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(shots.size()));
    while (clipper.Step()) {
        for (int row = clipper.DisplayStart; row < clipper.DisplayEnd; ++row)
            draw_shot(app, shots[static_cast<std::size_t>(row)], start_s);
    }
    ImGui::EndTable();
}

void draw_left_out(App& app) {
    const ComingIn& coming = app.list_page->coming;
    const Palette& c = app.look.colours;
    if (coming.refused.empty() && coming.there.empty()) {
        wrapped_text(app, "Every row can be read.", c.quiet);
        return;
    }
    constexpr std::size_t most = 500; // nobody reads further before mending the list
    for (std::size_t index = 0; index < std::min(coming.refused.size(), most); ++index) {
        const RefusedRow& row = coming.refused[index];
        wrapped_text(app, fmt::format("line {}: {}", row.line, printable(with_keys(row.why))), c.trouble);
    }
    for (std::size_t index = 0; index < std::min(coming.there.size(), most); ++index) {
        const RowThere& row = coming.there[index];
        wrapped_text(app, fmt::format("line {}: already there, {}", row.line, row.where), c.quiet);
    }
    const std::size_t longest = std::max(coming.refused.size(), coming.there.size());
    if (longest > most) wrapped_text(app, fmt::format("… and {} more", longest - most), c.quiet);
}

} // namespace

void draw_scorer_list(App& app, const Rect& place) {
    const Look& look = app.look;
    const Palette& c = look.colours;
    if (app.list_page->with_film != (frames_of(app) != nullptr) ||
        app.list_page->goalies != app.book->state().goalies.size())
        read_list_again(app);
    begin_panel("scorer list", place, c.panel);
    const float right = place.x + place.width - look.unit;
    draw_head(app, *app.list_page);
    draw_switches(app, *app.list_page, right);
    text_in(look.strong, c.text, "What each column holds");
    draw_columns(app, 8.6F * look.unit);
    const ComingIn& coming = app.list_page->coming;
    const std::string words = coming.shots.empty()
                                  ? std::string{"No shot can come in"}
                                  : fmt::format("Bring in {}", counted(coming.shots.size(), "shot", "shots"));
    if (word_button(app, words.c_str(), !coming.shots.empty()) && !coming.shots.empty()) {
        take_list(app);
        ImGui::End();
        return;
    }
    ImGui::SameLine(0.0F, look.unit);
    ImGui::AlignTextToFramePadding();
    const auto unplaced =
        std::ranges::count_if(coming.shots, [](const ComingShot& shot) { return !shot.at; });
    quiet_text(app,
               fmt::format("{} refused, {} already there{}", coming.refused.size(), coming.there.size(),
                           unplaced > 0 ? fmt::format("; {} with no place on the film yet", unplaced) : ""));
    const float gap = look.unit;
    const float room = ImGui::GetContentRegionAvail().x;
    const float left_out = std::clamp(0.3F * room, 18.0F * look.unit, 34.0F * look.unit);
    ImGui::BeginChild("coming", {room - left_out - gap, 0.0F});
    draw_coming(app);
    ImGui::EndChild();
    ImGui::SameLine(0.0F, gap);
    ImGui::BeginChild("left out", {left_out, 0.0F});
    draw_left_out(app);
    ImGui::EndChild();
    ImGui::End();
}

} // namespace ropeline
