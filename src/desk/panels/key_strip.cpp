#include "desk/panels/key_strip.h"

#include "desk/panels/pieces.h"

namespace ropeline {

void draw_key_strip(const Look& look, const Rect& place, KeyStrip strip) {
    begin_panel("keys", place, look.colours.ground);
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const auto width_of = [&](const StripKey& one) {
        return text_size(look.body, one.label).x + text_size(look.strong, shown_chord(one.chord)).x +
               1.2F * look.unit;
    };
    const StripKey every{std::string{chord_of(Command::key_sheet)},
                         "all keys"}; // always there, at the right end
    const float end = place.x + place.width - width_of(every) - 0.9F * look.unit;
    const float y = place.y + 0.32F * look.unit;
    draw_key(look, draw, {end, y}, every.chord, every.label);
    float x = place.x + 0.9F * look.unit;
    for (const StripKey& one : strip_keys(strip)) {
        if (x + width_of(one) > end - 0.5F * look.unit) break;
        x += draw_key(look, draw, {x, y}, one.chord, one.label) +
             (one.label.empty() ? 0.0F : 1.1F * look.unit);
    }
    ImGui::End();
}

} // namespace ropeline
