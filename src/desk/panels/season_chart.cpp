#include "desk/panels/season_chart.h"

#include "desk/paint_scene.h"
#include "sheet/shot_words.h"

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

constexpr float narrowest =
    31.0F; ///< units: the figures of a narrower chart are smaller than body text by a third
constexpr float drag_px = 5.0F; ///< less than that is a click

constexpr float widest = 54.0F; ///< units: of the chart that has small figures and is drawn wide

bool is_wide(const NamedChart& chart) {
    return chart.name == "every_depth";
}

bool is_plan(const NamedChart& chart) {
    return chart.name == "shots_on_plan";
}

/// The shot, or what else the mark stands for.
void tell_mark(const SeasonPart& part, const SceneMark& mark) {
    if (mark.shot_id.empty()) return ImGui::SetTooltip("%s", mark.words.c_str());
    const auto fact = std::ranges::find(part.facts, mark.shot_id, &ShotFact::shot_id);
    if (fact == part.facts.end()) return;
    ImGui::SetTooltip("%s\nclick: %s", shot_words(*fact).c_str(),
                      fact->film_id.empty() ? "in the log" : "on the film");
}

void ring_mark(const Look& look, const ChartPlace& place, const SceneMark& mark) {
    const float reach = std::max(0.45F * look.unit, place.width * 0.016F);
    ImGui::GetWindowDrawList()->AddCircle(place.to_screen(mark.at), reach, look.colours.rope, 24,
                                          look.pen(2.0F));
}

void frame_area(const Look& look, ImVec2 one, ImVec2 other) {
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const ImVec2 low{std::min(one.x, other.x), std::min(one.y, other.y)};
    const ImVec2 high{std::max(one.x, other.x), std::max(one.y, other.y)};
    draw->AddRectFilled(low, high, faded(look.colours.rope, 0.16F));
    draw->AddRect(low, high, look.colours.rope, 0.0F, 0, look.pen(1.5F));
}

IceArea area_between(IcePoint a, IcePoint b) {
    return {{std::min(a.x_m, b.x_m), std::min(a.y_m, b.y_m)},
            {std::max(a.x_m, b.x_m), std::max(a.y_m, b.y_m)}};
}

bool was_dragged() {
    const ImVec2 by = ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 0.0F);
    return std::hypot(by.x, by.y) > drag_px;
}

/// What the pointer does on the chart that was laid out last.
void point_at(const Panel& panel, const LogState& log, const SeasonPart& part, const NamedChart& chart,
              const ChartPlace& place) {
    const ImGuiIO& io = ImGui::GetIO();
    const bool active = ImGui::IsItemActive(), let_go = ImGui::IsItemDeactivated();
    const ImVec2 from = io.MouseClickedPos[ImGuiMouseButton_Left];
    const bool dragging = is_plan(chart) && (active || let_go) && was_dragged();
    if (dragging) {
        if (active) return frame_area(panel.look, from, io.MousePos);
        FactFilter only = log.list.only;
        only.area = area_between(ice_on_plan(place.to_scene(from), log.season),
                                 ice_on_plan(place.to_scene(io.MousePos), log.season));
        panel.actions.push_back(FilterFacts{only});
        return;
    }
    const bool hovered = ImGui::IsItemHovered();
    const SceneMark* mark = hovered || let_go ? mark_at(chart.scene, place.to_scene(io.MousePos)) : nullptr;
    if (!mark) {
        if (hovered && is_plan(chart) && !active && chart.scene.marks.size() > 1)
            ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeNWSE);
        return;
    }
    ring_mark(panel.look, place, *mark);
    if (hovered) tell_mark(part, *mark);
    if (let_go && !mark->shot_id.empty()) panel.actions.push_back(OpenOnFilm{mark->shot_id});
}

/// One chart under its title at this place. Out: the height it takes.
float draw_chart(const Panel& panel, const LogState& log, const SeasonPart& part, const NamedChart& chart,
                 ImVec2 at, float width) {
    const Look& look = panel.look;
    const float title = 1.5F * look.unit, air = 1.1F * look.unit;
    const float tall = width * static_cast<float>(chart.scene.height);
    ImGui::SetCursorScreenPos(at);
    text_in(look.strong, look.colours.text, shortened(look.strong, chart.scene.title, width));
    const ChartPlace place{{at.x, at.y + title}, width};
    ImGui::SetCursorScreenPos(place.at);
    ImGui::PushID(chart.name.c_str());
    ImGui::InvisibleButton("chart", {width, std::max(1.0F, tall)});
    ImGui::PopID();
    if (ImGui::IsItemVisible()) {
        paint_scene(ImGui::GetWindowDrawList(), look, place.at, width, chart.scene);
        const auto& area = log.list.only.area;
        if (is_plan(chart) && area)
            frame_area(look, place.to_screen(place_on_plan(area->low, log.season)),
                       place.to_screen(place_on_plan(area->high, log.season)));
        point_at(panel, log, part, chart, place);
    }
    return title + tall + air;
}

} // namespace

void draw_charts(const Panel& panel, const LogState& log, const SeasonPart& part,
                 const std::vector<NamedChart>& charts, float room) {
    const float unit = panel.look.unit, gap = 1.5F * unit;
    const auto fitting = static_cast<std::size_t>(std::max(1.0F, (room + gap) / (narrowest * unit + gap)));
    const std::size_t columns = std::clamp<std::size_t>(fitting, 1, std::max<std::size_t>(charts.size(), 1));
    const float width = (room - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    std::vector<float> used(columns, 0.0F);
    for (const NamedChart& chart : charts) {
        if (is_wide(chart)) continue;
        const auto shortest = std::ranges::min_element(used);
        const auto column = static_cast<float>(shortest - used.begin());
        *shortest +=
            draw_chart(panel, log, part, chart, {at.x + column * (width + gap), at.y + *shortest}, width);
    }
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy({room, *std::ranges::max_element(used)});
    draw_wide_charts(panel, log, part, charts, room);
}

void draw_wide_charts(const Panel& panel, const LogState& log, const SeasonPart& part,
                      const std::vector<NamedChart>& charts, float room) {
    const float width = std::min(room, widest * panel.look.unit);
    ImGui::PushID(&charts);
    for (const NamedChart& chart : charts) {
        if (!is_wide(chart)) continue;
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float tall = draw_chart(panel, log, part, chart, at, width);
        ImGui::SetCursorScreenPos(at);
        ImGui::Dummy({room, tall});
    }
    ImGui::PopID();
}

void draw_charts_in_pairs(const Panel& panel, const LogState& log, const SeasonPart& part,
                          const std::vector<NamedChart>& left, const std::vector<NamedChart>& right,
                          float half, float gap) {
    std::vector<std::string> names;
    for (const auto* side : {&left, &right})
        for (const NamedChart& chart : *side)
            if (!is_wide(chart) && std::ranges::find(names, chart.name) == names.end())
                names.push_back(chart.name);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    float end = 0.0F;
    for (const std::string& name : names) {
        float tall = 0.0F, x = at.x;
        for (const auto* side : {&left, &right}) {
            const auto chart = std::ranges::find(*side, name, &NamedChart::name);
            ImGui::PushID(side);
            if (chart != side->end())
                tall = std::max(tall, draw_chart(panel, log, part, *chart, {x, at.y + end}, half));
            ImGui::PopID();
            x += half + gap;
        }
        end += tall;
    }
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy({2.0F * half + gap, end});
}

} // namespace ropeline
