#include "desk/panels/season_side.h"

#include "desk/panels/goalie_table.h"
#include "desk/panels/season_chart.h"
#include "desk/panels/season_filter.h"
#include "sheet/season_words.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

/// Text broken at a width, between words alone: ".06" stays whole.
void broken_text(ImFont* font, ImU32 colour, const std::string& text, float width) {
    std::string broken;
    std::size_t line = 0; // where the last one begins
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, end - at);
        const bool first = broken.size() == line;
        if (!first && text_size(font, broken.substr(line) + " " + word).x > width) {
            broken += "\n";
            line = broken.size();
        } else if (!first) {
            broken += " ";
        }
        broken += word;
        at = end + 1;
    }
    text_in(font, colour, broken);
}

/// Newer figures are on their way: what is said meanwhile steps back a little.
ImU32 said_in(const Look& look, const SeasonPart& part) {
    return part.work ? look.colours.quiet : look.colours.text;
}

/// The sentence with the rope beside it, and what follows it in lines that the eye can hold.
void draw_sentences(const Look& look, const SeasonPart& part, const SeasonColumn& column, ImFont* large,
                    float room) {
    const float indent = 0.9F * look.unit;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::SetCursorScreenPos({at.x + indent, at.y});
    broken_text(large, said_in(look, part), column.first, room - indent);
    const float end = ImGui::GetItemRectMax().y;
    ImGui::GetWindowDrawList()->AddRectFilled({at.x, at.y}, {at.x + 0.3F * look.unit, end},
                                              look.colours.rope);
    ImGui::Dummy({1.0F, 0.2F * look.unit});
    for (const std::string& sentence : column.further) {
        const ImVec2 start = ImGui::GetCursorScreenPos();
        ImGui::GetWindowDrawList()->AddCircleFilled({start.x + 0.3F * look.unit, start.y + 0.55F * look.unit},
                                                    0.13F * look.unit, look.colours.quiet, 12);
        ImGui::SetCursorScreenPos({start.x + indent, start.y});
        broken_text(look.body, look.colours.text, sentence, std::min(room - indent, 68.0F * look.unit));
    }
    ImGui::Dummy({1.0F, 0.4F * look.unit});
}

void draw_whole(const Panel& panel, const LogState& log, const SeasonPart& part) {
    const Look& look = panel.look;
    const SeasonColumn& column = part.numbers->columns.front();
    const float room = ImGui::GetContentRegionAvail().x;
    draw_sentences(look, part, column, look.fact, room);
    draw_charts(panel, log, part, column.charts, room);
    for (const std::string& caution : cautions())
        broken_text(look.body, look.colours.quiet, caution, std::min(room, 75.0F * look.unit));
}

/// Whose side it is, to be chosen where it can be.
void draw_side_name(const Panel& panel, const SeasonPart& part, bool second, float room) {
    const Look& look = panel.look;
    Comparison comparison = part.comparison;
    std::string& key = second ? comparison.second : comparison.first;
    std::vector<Choice> choices;
    if (comparison.by == CompareBy::goalies) choices = part.numbers->choices.goalies;
    if (comparison.by == CompareBy::reviewers)
        for (const std::string& name : part.numbers->choices.reviewers)
            choices.push_back({name, name});
    if (choices.empty()) {
        const std::string& name = part.numbers->columns.at(second ? 1 : 0).name;
        return text_in(look.heading, look.colours.text, shortened(look.heading, name, room));
    }
    if (const auto picked = chosen_of(look, second ? "##second" : "##first", 16.0F, "", choices, key)) {
        key = *picked;
        panel.actions.push_back(CompareSeason{comparison});
    }
}

/// What stands between the two: where they differ, and whether that is known.
void draw_between(const Look& look, const SeasonPart& part, float room) {
    bool first = true;
    for (const std::string& sentence : part.numbers->between) {
        broken_text(first ? look.strong : look.body, said_in(look, part), sentence,
                    std::min(room, 85.0F * look.unit));
        first = false;
    }
    ImGui::Dummy({1.0F, 0.4F * look.unit});
}

void draw_side_head(const Panel& panel, const SeasonPart& part, std::size_t index, float room) {
    const Look& look = panel.look;
    const SeasonColumn& column = part.numbers->columns.at(index);
    ImGui::BeginGroup();
    draw_side_name(panel, part, index == 1, room);
    quiet_text(look, fmt::format("{} logged in {} game{}", column.shots, column.games,
                                 column.games == 1 ? "" : "s"));
    broken_text(look.strong, said_in(look, part), column.first, room);
    ImGui::EndGroup();
}

void draw_side_by_side(const Panel& panel, const LogState& log, const SeasonPart& part) {
    const Look& look = panel.look;
    const float room = ImGui::GetContentRegionAvail().x, gap = 2.0F * look.unit;
    draw_between(look, part, room);
    if (!part.numbers->shared.empty())
        draw_charts(panel, log, part, part.numbers->shared, std::min(room, 45.0F * look.unit));
    const float half = 0.5F * (room - gap);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_side_head(panel, part, 0, half);
    float end = ImGui::GetItemRectMax().y;
    ImGui::SetCursorScreenPos({at.x + half + gap, at.y});
    draw_side_head(panel, part, 1, half);
    end = std::max(end, ImGui::GetItemRectMax().y) + look.unit;
    ImGui::SetCursorScreenPos({at.x, end});
    draw_charts_in_pairs(panel, log, part, part.numbers->columns[0].charts, part.numbers->columns[1].charts,
                         half, gap);
    const float middle = at.x + half + 0.5F * gap;
    ImGui::GetWindowDrawList()->AddLine({middle, at.y}, {middle, ImGui::GetItemRectMax().y},
                                        look.colours.edge, look.pen(1.0F));
    for (const SeasonColumn& column : part.numbers->columns)
        draw_wide_charts(panel, log, part, column.charts, room);
}

/// Nothing to show: why, and what to do.
std::string nothing_words(const LogState& log, const SeasonPart& part) {
    if (!part.numbers) return part.work ? "The season is being read." : "";
    if (part.facts.empty())
        return "No shot is logged yet. What depth and goals have to do with one another stands here once "
               "there are "
               "some.";
    if (part.numbers->shots == 0 && !log.list.only.asks_nothing())
        return "Nothing that is logged is of these. Ask for fewer things at once.";
    return {};
}

} // namespace

void draw_season_side(const Panel& panel, const LogState& log, SeasonPart& part) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const float top = filter_height(look, place.width), gap = 0.4F * look.unit;
    draw_season_filter({look, {place.x, place.y, place.width, top}, panel.actions}, log, part);

    const bool table = part.view == SeasonView::goalies;
    const Rect rest{place.x, place.y + top + gap, place.width, std::max(1.0F, place.height - top - gap)};
    const bool sides = part.numbers && part.numbers->columns.size() == 2;
    // The scroll bar has its room from the first turn on: nothing moves when the page turns out to be long.
    begin_panel(table   ? "season goalies"
                : sides ? "season sides"
                        : "season charts",
                rest, look.colours.panel, table ? a_drawing : ImGuiWindowFlags_AlwaysVerticalScrollbar);
    if (!log.notice.text.empty())
        wrapped_text(log.notice.text, log.notice.trouble ? look.colours.trouble : look.colours.rope);
    const std::string nothing = nothing_words(log, part);
    if (!nothing.empty())
        wrapped_text(nothing, look.colours.quiet);
    else if (part.numbers && table)
        draw_goalie_table(panel, log, part);
    else if (sides)
        draw_side_by_side(panel, log, part);
    else if (part.numbers)
        draw_whole(panel, log, part);
    ImGui::End();
}

} // namespace ropeline
