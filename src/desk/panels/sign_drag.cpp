#include "desk/panels/sign_drag.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace ropeline {

namespace {

constexpr float drag_begins_px = 5.0F;

void take_hold(const Panel& panel, FilmStage& stage, const LogState& log, const Rect& strip, float x) {
    const FrameTable& frames = *frames_of(stage);
    const auto shot = sign_at(log, frames, stage.ribbon, strip, x, 0.5F * panel.look.unit);
    if (!shot) return;
    const Shot& taken = log.shots[*shot].shot;
    stage.sign = SignDrag{taken.id, taken.frame, x, false};
    stage.player = at_frame(stage.player, taken.frame, frames);
    if (ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) panel.actions.push_back(PickShot{*shot});
}

} // namespace

bool drag_sign(const Panel& panel, FilmStage& stage, const LogState& log, const Rect& strip, double under_s) {
    const float x = ImGui::GetIO().MousePos.x;
    if (ImGui::IsItemActivated()) take_hold(panel, stage, log, strip, x);
    if (!stage.sign) return false;
    SignDrag& sign = *stage.sign;
    sign.moved = sign.moved || std::abs(x - sign.from_x) > drag_begins_px;
    if (sign.moved) {
        const FrameTable& frames = *frames_of(stage);
        stage.player = at_frame(stage.player, number(frames.shown_at(under_s)), frames);
        ImDrawList* draw = ImGui::GetWindowDrawList();
        const float at = std::clamp(x, strip.x, strip.x + strip.width);
        draw->AddCircle({at, strip.y + 0.5F * strip.height}, 0.7F * panel.look.unit, panel.look.colours.rope,
                        0, panel.look.pen(2.5F));
    }
    if (ImGui::IsItemActive()) return true;
    if (sign.moved && number(stage.player.frame) != sign.frame)
        panel.actions.push_back(AskToMove{sign.shot_id, frame_at(stage)});
    stage.sign.reset();
    return true;
}

} // namespace ropeline
