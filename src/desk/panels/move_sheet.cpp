#include "desk/panels/move_sheet.h"

namespace ropeline {

void draw_move_sheet(const Panel& panel, const MovingShot& moving) {
    const Look& look = panel.look;
    constexpr float units = 36.0F, margins = 2.8F; // begin_sheet() leaves so much to both sides
    const float wrap = (units - margins) * look.unit, between = 0.5F * look.unit;
    const float words = ImGui::CalcTextSize(moving.cost.c_str(), nullptr, false, wrap).y;
    ImGui::PushFont(look.heading);
    const float question = ImGui::CalcTextSize(moving.question.c_str(), nullptr, false, wrap).y;
    ImGui::PopFont();
    begin_sheet(look, "move a shot", units * look.unit,
                question + words + ImGui::GetFrameHeight() + 2.2F * look.unit + 2.0F * between +
                    4.0F * ImGui::GetStyle().ItemSpacing.y);
    ImGui::PushTextWrapPos(0.0F);
    text_in(look.heading, look.colours.text, moving.question);
    ImGui::PopTextWrapPos();
    ImGui::Dummy({1.0F, between});
    wrapped_text(moving.cost, look.colours.text);
    ImGui::Dummy({1.0F, between});
    if (word_button(look, with_keys("Move it  ([take_shot])").c_str(), true))
        panel.actions.push_back(Press{Command::take_shot});
    ImGui::SameLine(0.0F, look.unit);
    if (word_button(look, with_keys("Leave it  ([put_down])").c_str()))
        panel.actions.push_back(Press{Command::put_down});
    ImGui::End();
}

} // namespace ropeline
