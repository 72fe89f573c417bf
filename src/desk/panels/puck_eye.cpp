// The puck's eye: the goal mouth as the puck on the ice sees it, with the goalie in the way.
#include "desk/panels/puck_eye.h"

#include "desk/panels/pieces.h"

#include "sheet/puck_eye.h"

#include <fmt/core.h>

#include <algorithm>
#include <vector>

namespace ropeline {

namespace {

/// From what the eye sees (tangents) to the panel: the mouth fills its width or height, upright.
struct EyeToScreen {
    ImVec2 origin;
    float scale = 1.0F;
    ImVec2 operator()(EyePoint at) const {
        return {origin.x + static_cast<float>(at.right) * scale,
                origin.y - static_cast<float>(at.up) * scale};
    }
};

EyeToScreen fitted(const PuckEye& eye, const Rect& place) {
    const double scale = std::min(place.width / (eye.right - eye.left), place.height / eye.top);
    const double x = place.x + 0.5 * place.width - 0.5 * (eye.left + eye.right) * scale;
    return {{static_cast<float>(x), place.y + place.height}, static_cast<float>(scale)};
}

std::vector<ImVec2> on_screen(const EyeToScreen& map, const std::vector<EyePoint>& outline) {
    std::vector<ImVec2> points;
    for (const EyePoint at : outline)
        points.push_back(map(at));
    return points;
}

} // namespace

void draw_puck_eye(const Look& look, ImDrawList* draw, const Rect& place, const Stance& stance, IcePoint puck,
                   const RuleBook& rules, const Parameters& parameters) {
    const Palette& c = look.colours;
    const float unit = look.unit;
    fill_opaque(draw, corner(place), far_corner(place), c.ground);
    const auto eye = puck_eye(stance, puck, rules, parameters);
    if (!eye) {
        constexpr std::string_view words = "The puck sees no net from here.";
        draw->AddText(look.body, look.body->FontSize, {place.x + 0.6F * unit, place.y + 0.6F * unit}, c.quiet,
                      words.data(), words.data() + words.size(), place.width - 1.2F * unit);
        return;
    }
    const Rect room{place.x + 0.8F * unit, place.y + 0.8F * unit, place.width - 1.6F * unit,
                    place.height - 3.0F * unit};
    const EyeToScreen map = fitted(*eye, room);
    const std::vector<ImVec2> frame = on_screen(map, eye->mouth);
    draw->AddConvexPolyFilled(frame.data(), static_cast<int>(frame.size()), faded(c.boards, 0.35F));
    for (const auto& [from, to] : eye->netting)
        draw->AddLine(map(from), map(to), faded(c.text, 0.16F));
    draw->PushClipRect(corner(place), far_corner(place), true);
    // The whole block, as it stands; then the part of the mouth that it hides.
    const std::vector<ImVec2> body = on_screen(map, eye->block);
    if (const std::vector<ImVec2> shadow = on_screen(map, eye->shadow); shadow.size() > 2) {
        draw->AddConvexPolyFilled(shadow.data(), static_cast<int>(shadow.size()), faded(c.ground, 0.85F));
    }
    if (body.size() == 4)
        draw->AddPolyline(body.data(), 4, faded(c.rope, 0.9F), ImDrawFlags_Closed, 0.12F * unit);
    draw->PopClipRect();
    const ImVec2 pipe[] = {frame[0], frame[3], frame[2], frame[1]};
    draw->AddPolyline(pipe, 4, c.red_paint, ImDrawFlags_None, 0.22F * unit);
    draw->AddLine({place.x, frame[0].y}, {place.x + place.width, frame[0].y}, faded(c.text, 0.4F));
    const double seen = 100.0 * eye->share;
    std::string words = fmt::format("{:.0f} % open", seen);
    for (const std::string& longer :
         {fmt::format("standing still: {:.0f} %", seen), fmt::format("standing still: {:.0f} % open", seen)})
        if (text_size(look.strong, longer).x < place.width - 1.0F * unit) words = longer;
    draw_text(draw, look.strong, {place.x + 0.6F * unit, place.y + place.height - 1.5F * unit}, c.text,
              words);
    if (ImGui::IsMouseHoveringRect(corner(place), far_corner(place)) && ImGui::IsWindowHovered())
        ImGui::SetTooltip("What the puck sees of the net past the goalie, who does not move.");
}

} // namespace ropeline
