#include "desk/panels/loupe.h"

#include "camera/fit_advice.h"

#include <fmt/core.h>

namespace ropeline {

namespace {

/// What the loupe asks for at this spot, and what missing it by a decimetre of height would do.
std::string loupe_words(const Look& look, const LogPart& part, ImagePoint at) {
    const LogState& log = part.state();
    Hand hand = log.selection.hand();
    if (part.drag && part.drag->mark) {
        const Moment* moment = moment_in_hand(log);
        const bool puck = moment && *part.drag->mark < moment->marks.size() &&
                          moment->marks[*part.drag->mark].kind == MarkKind::puck;
        hand = puck ? Hand::puck : Hand::goalie;
    }
    if (log.selection.fit() || hand == Hand::empty || hand == Hand::puck) return {};
    std::string words = "skate on the ice";
    const FitHere& here = part.view.here;
    if (const auto bias = here.fit ? height_bias(*here.fit, at, pad_height_m) : std::nullopt)
        words += fmt::format("\n{} too high\nis {} off", length_words(look, pad_height_m),
                             length_words(look, bias->shift_m));
    return words;
}

} // namespace

void draw_loupe(const Canvas& on, const FilmTexture& texture, const LogPart& part, ImagePoint at) {
    const Look& look = on.look;
    ImDrawList* draw = on.draw;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const float unit = look.unit;
    const float size = 9.0F * unit;
    constexpr float magnified = 8.0F;
    const Rect& panel = on.view.panel;
    ImVec2 from{mouse.x + 2.0F * unit, mouse.y - size - 1.5F * unit};
    if (from.x + size > panel.x + panel.width) from.x = mouse.x - size - 2.0F * unit;
    if (from.y < panel.y) from.y = mouse.y + 2.0F * unit;
    const auto width = static_cast<float>(on.view.shown.width_px);
    const auto height = static_cast<float>(on.view.shown.height_px);
    const float half = 0.5F * size / magnified;
    const auto x = static_cast<float>(at.x_px);
    const auto y = static_cast<float>(at.y_px);
    draw->AddRectFilled(from, {from.x + size, from.y + size}, IM_COL32(0, 0, 0, 255));
    draw->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture.id())), from,
                   {from.x + size, from.y + size}, {(x - half) / width, (y - half) / height},
                   {(x + half) / width, (y + half) / height});
    const ImVec2 middle{from.x + 0.5F * size, from.y + 0.5F * size};
    const ImU32 hair = look.colours.rope;
    draw->AddLine({from.x, middle.y}, {middle.x - 0.5F * unit, middle.y}, hair, look.pen(1.0F));
    draw->AddLine({middle.x + 0.5F * unit, middle.y}, {from.x + size, middle.y}, hair, look.pen(1.0F));
    draw->AddLine({middle.x, from.y}, {middle.x, middle.y - 0.5F * unit}, hair, look.pen(1.0F));
    draw->AddLine({middle.x, middle.y + 0.5F * unit}, {middle.x, from.y + size}, hair, look.pen(1.0F));
    draw->AddRect(from, {from.x + size, from.y + size}, hair, 0.0F, 0, look.pen(1.5F));
    const std::string words = loupe_words(look, part, at);
    if (words.empty()) return;
    const ImFont* font = look.body;
    const ImVec2 room = font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, words.c_str());
    draw->AddRectFilled({from.x, from.y + size}, {from.x + size, from.y + size + room.y + 0.4F * unit},
                        faded(look.colours.ground, 0.88F));
    draw->AddText(font, font->FontSize, {from.x + 0.3F * unit, from.y + size + 0.2F * unit},
                  look.colours.text, words.c_str());
}

} // namespace ropeline
