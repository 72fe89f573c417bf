#include "desk/panels/goalie_table.h"

#include "sheet/share_words.h"
#include "sheet/text.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {

namespace {

std::string with_interval(const std::string& share, const Interval& interval) {
    return fmt::format("{} ({} to {})", share, percentage_text(interval.low), percentage_text(interval.high));
}

std::string counted_share(Share share) {
    if (share.of == 0) return "–";
    return fmt::format("{} ({} of {})", percentage_text(static_cast<double>(share.hits) / share.of),
                       share.hits, share.of);
}

std::string goalie_words_in(const GoalieRow& row, GoalieColumn column) {
    switch (column) {
    case GoalieColumn::goalie:
        return row.goalie.empty() ? "no name" : row.goalie;
    case GoalieColumn::team:
        return row.team;
    case GoalieColumn::shots:
        return std::to_string(row.counts.logged);
    case GoalieColumn::goals:
        return std::to_string(row.counts.goals);
    case GoalieColumn::save_share: {
        const auto share = row.counts.save_percentage();
        return share ? with_interval(fmt::format("{} of {}", percentage_text(*share), row.counts.on_goal),
                                     *row.counts.interval())
                     : "–";
    }
    case GoalieColumn::right_depth:
        return counted_share(row.right_depth);
    case GoalieColumn::read_it:
        return counted_share(row.read_it);
    case GoalieColumn::given_away:
        return row.given_away_a_game ? fmt::format("{:.2f} nets", *row.given_away_a_game) : "–";
    case GoalieColumn::shrunk:
        return row.shrunk ? with_interval(percentage_text(row.shrunk->share), row.shrunk->interval) : "–";
    }
    return {};
}

/// The shares of a row with their ranges, for who points at it.
std::string row_words(const GoalieRow& row) {
    return fmt::format(
        "{}{}{}, {} game{}\nright depth {}\nright read {}\nunblocked attempts that went in {}\n"
        "click: the charts of these shots alone",
        row.goalie.empty() ? "no name" : row.goalie, row.team.empty() ? "" : ", ", row.team, row.games,
        row.games == 1 ? "" : "s", share_words(row.right_depth), share_words(row.read_it),
        share_words(row.counts.goals_of_unblocked()));
}

struct GoalieLook {
    GoalieColumn column;
    float units; ///< of width
    const char* head;
    const char* about;
};
constexpr std::array<GoalieLook, goalie_columns> goalie_looks = {
    {{GoalieColumn::goalie, 11.0F, "goalie", "by name"},
     {GoalieColumn::team, 10.0F, "team", "by team"},
     {GoalieColumn::shots, 3.6F, "shots", "all that is logged"},
     {GoalieColumn::goals, 3.6F, "goals", "of all that is logged"},
     {GoalieColumn::save_share, 12.7F, "save % (95 %)", "saves of shots on goal, with Wilson's interval"},
     {GoalieColumn::right_depth, 8.5F, "right depth", "of the plays with a verdict on the depth"},
     {GoalieColumn::read_it, 8.5F, "right read", "of the calls on what was a shot or a pass"},
     {GoalieColumn::given_away, 8.4F, "gave away a game",
      "whole nets left open a game, more than from the best spots"},
     {GoalieColumn::shrunk, 10.5F, "goals, drawn to all",
      "goals of unblocked attempts, drawn towards those of all goalies as far as the shots are few, with 95 "
      "%"}}};
constexpr float least_bar = 8.0F;

/// The columns there is room for; the bar of the save share stands where more is left. Of goals alone no share is told.
std::vector<GoalieLook> goalie_columns_in(float room_units, bool only_goals) {
    std::vector<GoalieLook> shown{goalie_looks.begin(), goalie_looks.end()};
    if (only_goals)
        std::erase_if(shown, [](const GoalieLook& look) {
            return look.column == GoalieColumn::save_share || look.column == GoalieColumn::shrunk;
        });
    const auto wide = [&] {
        float sum = 0.0F;
        for (const GoalieLook& look : shown)
            sum += look.units + 0.9F; // with the padding of the cell
        return sum;
    };
    for (const GoalieColumn left_out : {GoalieColumn::team, GoalieColumn::read_it, GoalieColumn::shrunk})
        if (wide() > room_units)
            std::erase_if(shown, [&](const GoalieLook& look) { return look.column == left_out; });
    return shown;
}

void draw_goalie_head(const Panel& panel, const GoalieOrder& order, const GoalieLook& column) {
    const Look& look = panel.look;
    ImGui::TableNextColumn();
    const bool sorted = order.by == column.column;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float wide = std::max(1.0F, ImGui::GetContentRegionAvail().x);
    ImGui::PushID(column.head);
    if (ImGui::InvisibleButton("head", {wide, 1.1F * look.unit}))
        panel.actions.push_back(SortGoalies{column.column});
    ImGui::PopID();
    const bool hovered = ImGui::IsItemHovered();
    if (hovered) ImGui::SetTooltip("%s; a click sorts by it, another the other way round", column.about);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const ImU32 colour = sorted || hovered ? look.colours.rope : look.colours.quiet;
    const std::string head = shortened(look.body, column.head, wide - 0.8F * look.unit);
    const float end = at.x + draw_text(draw, look.body, at, colour, head).x;
    if (!sorted) return;
    const float way = order.falling ? -1.0F : 1.0F, r = 0.26F * look.unit;
    const ImVec2 middle{end + 0.6F * look.unit, at.y + 0.55F * look.unit};
    draw->AddTriangleFilled({middle.x - r, middle.y + way * r}, {middle.x + r, middle.y + way * r},
                            {middle.x, middle.y - way * r}, colour);
}

/// The save share and its interval between the least and the most of all rows.
void draw_save_bar(const Look& look, const GoalieRow& row, const Interval& all) {
    ImGui::TableNextColumn();
    const auto interval = row.counts.interval();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float wide = ImGui::GetContentRegionAvail().x, y = at.y + 0.55F * look.unit;
    ImGui::Dummy({std::max(1.0F, wide), look.unit});
    if (!interval || all.high <= all.low) return;
    const auto x_of = [&](double share) {
        return at.x + wide * static_cast<float>((share - all.low) / (all.high - all.low));
    };
    ImDrawList* draw = ImGui::GetWindowDrawList();
    draw->AddLine({at.x, y}, {at.x + wide, y}, look.colours.edge);
    draw->AddRectFilled({x_of(interval->low), y - 0.16F * look.unit},
                        {x_of(interval->high), y + 0.16F * look.unit}, faded(look.colours.save, 0.45F), 2.0F);
    const float middle = x_of(*row.counts.save_percentage());
    draw->AddRectFilled({middle - 1.5F, y - 0.4F * look.unit}, {middle + 1.5F, y + 0.4F * look.unit},
                        look.colours.text);
}

/// The ends of the bars: nobody's is cut.
Interval ends_of_bars(const std::vector<GoalieRow>& rows) {
    Interval all{1.0, 0.0};
    for (const GoalieRow& row : rows)
        if (const auto interval = row.counts.interval()) {
            all.low = std::min(all.low, std::floor(20.0 * interval->low) / 20.0);
            all.high = std::max(all.high, std::ceil(20.0 * interval->high) / 20.0);
        }
    return all;
}

void draw_goalie_row(const Panel& panel, const LogState& log, const SeasonPart& part, const GoalieRow& row,
                     const std::vector<GoalieLook>& columns, const Interval* bars) {
    const Look& look = panel.look;
    ImGui::TableNextRow();
    ImGui::PushID(row.goalie_id.c_str());
    for (const GoalieLook& column : columns) {
        ImGui::TableNextColumn();
        const std::string words = goalie_words_in(row, column.column);
        if (column.column == GoalieColumn::goalie) {
            const bool chosen = log.list.only.goalie_id == row.goalie_id;
            const ImVec2 at = ImGui::GetCursorPos();
            if (ImGui::Selectable("##row", chosen, ImGuiSelectableFlags_SpanAllColumns, {0.0F, look.unit})) {
                FactFilter only = log.list.only;
                only.goalie_id = row.goalie_id;
                panel.actions.push_back(FilterFacts{only});
                if (part.comparison.by == CompareBy::goalies) // it would show those two, whoever is asked for
                    panel.actions.push_back(CompareSeasonBy{CompareBy::nothing});
                panel.actions.push_back(ShowSeason{SeasonView::charts});
            }
            if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", row_words(row).c_str());
            ImGui::SetCursorPos(at);
        }
        const bool known = words != "–";
        text_in(look.body, known ? look.colours.text : look.colours.faint,
                shortened(look.body, words, std::max(1.0F, ImGui::GetContentRegionAvail().x)));
    }
    if (bars) draw_save_bar(look, row, *bars);
    ImGui::PopID();
}

} // namespace

void draw_goalie_table(const Panel& panel, const LogState& log, const SeasonPart& part) {
    const Look& look = panel.look;
    const std::vector<GoalieRow>& rows = part.numbers->goalies;
    if (rows.empty()) return wrapped_text("No goalie has a shot that is asked for.", look.colours.quiet);
    const float room = ImGui::GetContentRegionAvail().x;
    const bool only_goals = part.numbers->of.filter.goals;
    const std::vector<GoalieLook> columns = goalie_columns_in(room / look.unit, only_goals);
    float used = 0.0F;
    for (const GoalieLook& column : columns)
        used += column.units + 0.9F;
    const bool has_bar = !only_goals && room / look.unit - used > least_bar + 1.5F;
    const Interval bars = ends_of_bars(rows);
    constexpr ImGuiTableFlags flags =
        ImGuiTableFlags_ScrollY | ImGuiTableFlags_RowBg | ImGuiTableFlags_SizingFixedFit;
    const std::string name = fmt::format("goalies {} {:.0f}", columns.size(), room);
    if (!ImGui::BeginTable(name.c_str(), static_cast<int>(columns.size()) + (has_bar ? 1 : 0), flags)) return;
    ImGui::TableSetupScrollFreeze(0, 1);
    for (const GoalieLook& column : columns) {
        const bool stretches = !has_bar && column.column == GoalieColumn::goalie;
        ImGui::TableSetupColumn(
            "", stretches ? ImGuiTableColumnFlags_WidthStretch : ImGuiTableColumnFlags_WidthFixed,
            stretches ? 1.0F : column.units * look.unit);
    }
    if (has_bar) ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableNextRow(ImGuiTableRowFlags_Headers);
    for (const GoalieLook& column : columns)
        draw_goalie_head(panel, part.order, column);
    if (has_bar) {
        ImGui::TableNextColumn();
        quiet_text(look, fmt::format("{} to {}", percentage_text(bars.low), percentage_text(bars.high)));
    }
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(rows.size()));
    while (clipper.Step())
        for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i)
            draw_goalie_row(panel, log, part, rows.at(part.in_order.at(static_cast<std::size_t>(i))), columns,
                            has_bar ? &bars : nullptr);
    ImGui::EndTable();
}

} // namespace ropeline
