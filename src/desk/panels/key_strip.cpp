#include "desk/panels/key_strip.h"

namespace ropeline {

namespace {

void draw_strip_key(const Panel& panel, const StripKey& key, ScreenPoint at, float wide) {
    const Look& look = panel.look;
    const bool does = key.command || key.number > 0;
    ImDrawList* draw = ImGui::GetWindowDrawList();
    ImGui::SetCursorScreenPos({at.x - 0.2F * look.unit, panel.place.y});
    ImGui::PushID(key.chord.c_str());
    const bool clicked = ImGui::InvisibleButton("key", {wide + 0.4F * look.unit, panel.place.height});
    ImGui::PopID();
    if (does && ImGui::IsItemHovered()) {
        draw->AddRectFilled({at.x - 0.3F * look.unit, at.y - 0.15F * look.unit},
                            {at.x + wide + 0.3F * look.unit, at.y + 1.5F * look.unit}, look.colours.edge,
                            0.2F * look.unit);
        const std::string words = key.command ? std::string{label_of(*key.command)} : key.label;
        ImGui::SetTooltip("%s   %s", words.c_str(), shown_chord(key.chord).c_str());
    }
    if (clicked && key.command) panel.actions.push_back(Press{*key.command});
    if (clicked && key.number > 0) panel.actions.push_back(Number{key.number});
    draw_key(look, draw, {at.x, at.y}, key.chord, key.label);
}

} // namespace

void draw_key_strip(const Panel& panel, KeyStrip strip) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0.0F, 0.0F});
    begin_panel("keys", place, look.colours.ground);
    ImGui::PopStyleVar();
    const StripKey every{std::string{chord_of(Command::key_sheet)}, "all keys",
                         Command::key_sheet}; // always there, at the right end
    const float every_wide = key_width(look, every.chord, every.label);
    const float end = place.x + place.width - every_wide - 0.9F * look.unit;
    const float y = place.y + 0.32F * look.unit;
    draw_strip_key(panel, every, {end, y}, every_wide);
    float x = place.x + 0.9F * look.unit;
    for (const StripKey& one : strip_keys(strip)) {
        const float wide = key_width(look, one.chord, one.label);
        if (x + wide > end - 0.9F * look.unit) break;
        draw_strip_key(panel, one, {x, y}, wide);
        x += wide + (one.label.empty() ? 0.0F : 1.1F * look.unit);
    }
    ImGui::End();
}

} // namespace ropeline
