#include "desk/panels/move_sheet.h"

namespace ropeline {

void draw_move_sheet(const Panel& panel, const MovingShot& moving) {
    const Look& look = panel.look;
    begin_sheet(look, "move a shot", 36.0F * look.unit, 13.0F * look.unit);
    ImGui::PushTextWrapPos(0.0F);
    text_in(look.heading, look.colours.text, moving.question);
    ImGui::PopTextWrapPos();
    ImGui::Dummy({1.0F, 0.2F * look.unit});
    wrapped_text(moving.cost, look.colours.text);
    ImGui::Dummy({1.0F, 0.4F * look.unit});
    if (word_button(look, with_keys("Move it  ([take_shot])").c_str(), true))
        panel.actions.push_back(Press{Command::take_shot});
    ImGui::SameLine(0.0F, look.unit);
    if (word_button(look, with_keys("Leave it  ([put_down])").c_str()))
        panel.actions.push_back(Press{Command::put_down});
    ImGui::End();
}

} // namespace ropeline
