// Every key on one sheet.
#include "desk/panels/ui.h"

#include "desk/state/key_file.h"

#include <algorithm>
#include <array>

namespace ropeline {

void draw_key_sheet(App& app, float width, float height) {
    const Look& look = app.look;
    const float wide = std::min(74.0F * look.unit, width - 2.0F * look.unit);
    begin_sheet(app, "key sheet", wide, std::min(46.0F * look.unit, height));
    text_in(look.heading, look.colours.text, "All keys");
    ImGui::SameLine(0.0F, look.unit);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.25F * look.unit);
    quiet_text(app, with_keys("[key_sheet] or [put_down] closes this sheet. Other keys: write them into ") +
                        key_file_path().string());
    ImGui::Spacing();
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float column = (ImGui::GetContentRegionAvail().x) / 3.0F;
    std::array y = {start.y, start.y, start.y};
    std::string_view group;
    std::size_t side = 0;
    for (const KeyBinding& binding : key_bindings()) {
        if (binding.group != group) {
            group = binding.group;
            side = static_cast<std::size_t>(std::ranges::min_element(y) - y.begin());
            if (y[side] > start.y) y[side] += 0.8F * look.unit;
            draw_text(draw, look.strong, {start.x + static_cast<float>(side) * column, y[side]},
                      look.colours.text, group);
            y[side] += 1.6F * look.unit;
        }
        draw_key(app, draw, {start.x + static_cast<float>(side) * column, y[side]}, binding.chord,
                 binding.label);
        y[side] += 1.62F * look.unit;
    }
    ImGui::Dummy({1.0F, *std::ranges::max_element(y) - start.y});
    ImGui::End();
}

} // namespace ropeline
