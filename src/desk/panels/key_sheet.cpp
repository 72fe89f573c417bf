// Every key on one sheet.
#include "desk/panels/ui.h"

#include <algorithm>

namespace ropeline {

void draw_key_sheet(App& app, float width, float height) {
    const Look& look = app.look;
    const float wide = std::min(56.0F * look.unit, width - 2.0F * look.unit);
    begin_sheet(app, "key sheet", wide, std::min(47.0F * look.unit, height));
    text_in(look.heading, look.colours.text, "All keys");
    ImGui::SameLine(0.0F, look.unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    quiet_text(app, "F1 or Esc closes this sheet");
    ImGui::Spacing();
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float column = (ImGui::GetContentRegionAvail().x) / 2.0F;
    float y[2] = {start.y, start.y};
    std::string_view group;
    int side = 0;
    for (const KeyBinding& binding : key_bindings()) {
        if (binding.group != group) {
            group = binding.group;
            side = y[1] < y[0] ? 1 : 0;
            if (y[side] > start.y) y[side] += 0.8F * look.unit;
            draw_text(draw, look.strong, {start.x + static_cast<float>(side) * column, y[side]},
                      look.colours.text, group);
            y[side] += 1.6F * look.unit;
        }
        draw_key(app, draw, {start.x + static_cast<float>(side) * column, y[side]}, binding.chord,
                 binding.label);
        y[side] += 1.62F * look.unit;
    }
    ImGui::Dummy({1.0F, std::max(y[0], y[1]) - start.y});
    ImGui::End();
}

} // namespace ropeline
