#include "desk/panels/right_click_menu.h"

#include <algorithm>

namespace ropeline {

namespace {

std::string key_of_entry(const MenuEntry& entry) {
    const auto* command = std::get_if<Command>(&entry.does);
    return command ? shown_chord(chord_of(*command)) : std::string{};
}

void carry_out(const Panel& panel, const RightClicked& there, const MenuEntry& entry) {
    if (there.mark) panel.actions.push_back(HoldMark{*there.mark});
    if (const auto* command = std::get_if<Command>(&entry.does)) {
        panel.actions.push_back(Press{*command});
    } else {
        panel.actions.push_back(std::get<LogAction>(entry.does));
    }
}

} // namespace

void draw_right_click_menu(const Panel& panel, LogPart& part) {
    if (!part.menu && !part.menu_open) return;
    const Look& look = panel.look;
    if (part.menu && !part.menu_open) ImGui::OpenPopup("right click");
    part.menu_open = true;
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0.5F * look.unit, 0.5F * look.unit});
    const bool open = ImGui::BeginPopup("right click");
    ImGui::PopStyleVar();
    if (!open || !part.menu) { // clicked elsewhere, or put down
        if (open) ImGui::CloseCurrentPopup();
        if (open) ImGui::EndPopup();
        part.menu.reset();
        part.menu_open = false;
        return;
    }
    const std::vector<MenuEntry> entries = menu_at(part.state(), *part.menu);
    float wide = 0.0F;
    for (const MenuEntry& entry : entries)
        wide = std::max(wide, text_size(look.body, entry.words).x +
                                  text_size(look.body, key_of_entry(entry)).x + 2.5F * look.unit);
    for (std::size_t index = 0; index < entries.size(); ++index) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::PushID(static_cast<int>(index));
        if (ImGui::Selectable("##entry", false, 0, {wide, 1.5F * look.unit}))
            carry_out(panel, *part.menu, entries[index]);
        ImGui::PopID();
        ImDrawList* draw = ImGui::GetWindowDrawList();
        const std::string key = key_of_entry(entries[index]);
        const float y = at.y + 0.25F * look.unit;
        draw_text(draw, look.body, {at.x + 0.4F * look.unit, y}, look.colours.text, entries[index].words);
        draw_text(draw, look.body, {at.x + wide - 0.4F * look.unit - text_size(look.body, key).x, y},
                  look.colours.rope, key);
    }
    ImGui::EndPopup();
}

} // namespace ropeline
