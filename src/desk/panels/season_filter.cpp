#include "desk/panels/season_filter.h"

#include "desk/season_pages.h"
#include "season/dates.h"

#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <array>

namespace ropeline {

namespace {

constexpr std::array<float, 8> field_units{11.0F, 10.0F, 9.0F, 9.5F, 9.0F, 4.0F, 6.6F, 6.6F};
constexpr float field_gap = 0.4F;

/// Lays the next field beside the one before, or on a new line where it would not fit.
class FieldsInLine {
public:
    FieldsInLine(float unit, float room) : unit_(unit), room_(room) {}
    void next(float units) {
        const float wide = units * unit_;
        if (used_ > 0.0F && used_ + wide <= room_) {
            ImGui::SameLine(0.0F, field_gap * unit_);
        } else {
            used_ = 0.0F;
        }
        used_ += wide + field_gap * unit_;
    }

private:
    float unit_, room_, used_ = 0.0F;
};

template <class Value>
std::vector<Choice> choices_of_words(int count) {
    std::vector<Choice> all;
    for (int i = 0; i < count; ++i)
        all.push_back({std::to_string(i), std::string{label_of(static_cast<Value>(i))}});
    return all;
}

template <class Value>
std::string key_of_value(const std::optional<Value>& value) {
    return value ? std::to_string(static_cast<int>(*value)) : "";
}

template <class Value>
std::optional<Value> value_of_key(const std::string& key) {
    if (key.empty()) return std::nullopt;
    return static_cast<Value>(std::stoi(key));
}

std::vector<Choice> as_choices(const std::vector<std::string>& words) {
    std::vector<Choice> all;
    for (const std::string& one : words)
        all.push_back({one, one});
    return all;
}

/// The filter as the fields leave it.
FactFilter draw_fields(const Look& look, SeasonPart& part, FactFilter only, float room) {
    const SeasonChoices none;
    const SeasonChoices& choices = part.numbers ? part.numbers->choices : none;
    FieldsInLine line{look.unit, room};
    const auto pick = [&](std::size_t field, const char* id, const char* all, const std::vector<Choice>& from,
                          const std::string& key) {
        line.next(field_units.at(field));
        return chosen_of(look, id, field_units.at(field), all, from, key);
    };
    if (const auto goalie = pick(0, "##goalie", "every goalie", choices.goalies, only.goalie_id))
        only.goalie_id = *goalie;
    if (const auto team = pick(1, "##team", "every team", as_choices(choices.teams), only.team))
        only.team = *team;
    if (const auto chosen = pick(2, "##situation", "every situation", choices_of_words<Situation>(6),
                                 key_of_value(only.situation)))
        only.situation = value_of_key<Situation>(*chosen);
    if (const auto chosen =
            pick(3, "##came", "whatever came", choices_of_words<NextAction>(2), key_of_value(only.came)))
        only.came = value_of_key<NextAction>(*chosen);
    if (const auto chosen =
            pick(4, "##verdict", "every verdict", choices_of_words<Verdict>(8), key_of_value(only.verdict)))
        only.verdict = value_of_key<Verdict>(*chosen);
    line.next(field_units[5]);
    if (chip(look, "goals", "", "goals", only.goals, false)) only.goals = !only.goals;
    line.next(field_units[6]);
    draw_day(look, "##from", "from", field_units[6], part.entry.from, only.from);
    line.next(field_units[7]);
    draw_day(look, "##to", "to", field_units[7], part.entry.to, only.to);
    return only;
}

void draw_saving(const Panel& panel, const SeasonPart& part) {
    const Look& look = panel.look;
    if (part.saving) return quiet_text(look, "saving …");
    if (chip(look, "save", "", "save", false, false)) ImGui::OpenPopup("papers");
    if (!ImGui::BeginPopup("papers")) return;
    for (const SeasonPaper paper : {SeasonPaper::page, SeasonPaper::charts, SeasonPaper::tables})
        if (ImGui::Selectable(std::string{label_of(paper)}.c_str()))
            panel.actions.push_back(SavePapers{paper});
    ImGui::EndPopup();
}

void draw_comparing(const Panel& panel, const SeasonPart& part) {
    const Look& look = panel.look;
    const std::string compared = part.comparison.by == CompareBy::nothing
                                     ? "side by side"
                                     : fmt::format("side by side: {}", label_of(part.comparison.by));
    if (chip(look, "compare", "", compared, part.comparison.by != CompareBy::nothing, false))
        ImGui::OpenPopup("compared");
    if (!ImGui::BeginPopup("compared")) return;
    for (const CompareBy by :
         {CompareBy::nothing, CompareBy::goalies, CompareBy::halves, CompareBy::reviewers})
        if (ImGui::Selectable(std::string{label_of(by)}.c_str(), by == part.comparison.by))
            panel.actions.push_back(CompareSeasonBy{by});
    ImGui::EndPopup();
}

/// How many shots these are, and that newer figures are on their way.
std::string shots_words(const SeasonPart& part) {
    const auto share = share_worked_out(part);
    if (!part.numbers)
        return share ? fmt::format("reading the season, {:.0f} %", 100.0 * *share) : std::string{};
    const std::size_t all = part.facts.size(), shots = part.numbers->shots;
    std::string words =
        shots == all ? fmt::format("{} logged", all) : fmt::format("{} of {} logged", shots, all);
    if (share) words += fmt::format(" · being renewed, {:.0f} %", 100.0 * *share);
    return words;
}

void draw_season_head(const Panel& panel, const LogState& log, const SeasonPart& part) {
    const Look& look = panel.look;
    const float gap = 0.5F * look.unit;
    const bool goalies = part.view == SeasonView::goalies;
    if (chip(look, "charts", "", "charts", !goalies, false))
        panel.actions.push_back(ShowSeason{SeasonView::charts});
    ImGui::SameLine(0.0F, 0.3F * look.unit);
    if (chip(look, "goalies", "", "goalies", goalies, false))
        panel.actions.push_back(ShowSeason{SeasonView::goalies});
    ImGui::SameLine(0.0F, 2.0F * gap);
    draw_comparing(panel, part);
    ImGui::SameLine(0.0F, 2.0F * gap);
    draw_saving(panel, part);
    ImGui::SameLine(0.0F, 2.0F * gap);
    const FactFilter& only = log.list.only;
    if (!only.asks_nothing()) {
        if (chip(look, "all", "", "all shots again", false, true)) panel.actions.push_back(FilterFacts{});
        ImGui::SameLine(0.0F, gap);
    }
    if (only.area) {
        FactFilter anywhere = only;
        anywhere.area.reset();
        if (chip(look, "area", "", "the whole ice", false, true))
            panel.actions.push_back(FilterFacts{anywhere});
        ImGui::SameLine(0.0F, gap);
    }
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    text_in(look.body, part.work ? look.colours.rope : look.colours.quiet, shots_words(part));
}

} // namespace

std::optional<std::string> chosen_of(const Look& look, const char* id, float units, const char* all,
                                     const std::vector<Choice>& choices, const std::string& key) {
    const auto chosen = std::ranges::find(choices, key, &Choice::key);
    const std::string shown = key.empty()               ? all
                              : chosen == choices.end() ? "not in this season"
                                                        : chosen->words;
    std::optional<std::string> picked;
    ImGui::SetNextItemWidth(units * look.unit);
    const float arrow = ImGui::GetFrameHeight() + 2.0F * ImGui::GetStyle().FramePadding.x;
    ImGui::PushStyleColor(ImGuiCol_Text, key.empty() ? look.colours.quiet : look.colours.text);
    const bool open = ImGui::BeginCombo(id, shortened(look.body, shown, units * look.unit - arrow).c_str(),
                                        ImGuiComboFlags_HeightLarge);
    ImGui::PopStyleColor();
    if (!open) return picked;
    if (*all && ImGui::Selectable(all, key.empty())) picked = std::string{};
    for (const Choice& choice : choices) {
        ImGui::PushID(choice.key.c_str());
        if (ImGui::Selectable(choice.words.c_str(), choice.key == key)) picked = choice.key;
        ImGui::PopID();
    }
    ImGui::EndCombo();
    return picked;
}

void draw_day(const Look& look, const char* id, const char* hint, float units, std::string& typed,
              std::string& day) {
    const bool wrong = !typed.empty() && !is_day(typed);
    if (!ImGui::IsAnyItemActive() && !wrong && typed != day)
        typed = day; // the filter was cleared, or another season opened
    ImGui::SetNextItemWidth(units * look.unit);
    ImGui::PushStyleColor(ImGuiCol_Text, wrong ? look.colours.trouble : look.colours.text);
    ImGui::InputTextWithHint(id, hint, &typed);
    ImGui::PopStyleColor();
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s a day like 2026-11-25, that day too; empty: any", hint);
    if (typed.empty() || is_day(typed)) day = typed;
}

float filter_height(const Look& look, float width) {
    const float room = width - 2.0F * ImGui::GetStyle().WindowPadding.x;
    float used = 0.0F;
    int lines = 1;
    for (const float units : field_units) {
        const float wide = units * look.unit;
        if (used > 0.0F && used + wide > room) {
            ++lines;
            used = 0.0F;
        }
        used += wide + field_gap * look.unit;
    }
    const ImGuiStyle& style = ImGui::GetStyle();
    const float field = look.unit + 2.0F * style.FramePadding.y + style.ItemSpacing.y;
    return 1.5F * look.unit + style.ItemSpacing.y + static_cast<float>(lines) * field +
           2.0F * style.WindowPadding.y;
}

void draw_season_filter(const Panel& panel, const LogState& log, SeasonPart& part) {
    begin_panel("season filter", panel.place, panel.look.colours.panel);
    draw_season_head(panel, log, part);
    const FactFilter only = draw_fields(panel.look, part, log.list.only, ImGui::GetContentRegionAvail().x);
    if (only != log.list.only) panel.actions.push_back(FilterFacts{only});
    ImGui::End();
}

} // namespace ropeline
