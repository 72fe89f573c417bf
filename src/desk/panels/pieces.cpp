#include "desk/panels/pieces.h"

#include "rink/units.h"

#include <SDL_opengl.h>
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace ropeline {

namespace {

/// Clears what the command is clipped to, in the colour it carries.
void clear_clipped(const ImDrawList*, const ImDrawCmd* command) {
    const ImDrawData& all = *ImGui::GetDrawData();
    const ImVec2 scale = all.FramebufferScale;
    const ImVec4& clip = command->ClipRect;
    const float below = (all.DisplaySize.y - (clip.w - all.DisplayPos.y)) * scale.y;
    glScissor(static_cast<GLint>((clip.x - all.DisplayPos.x) * scale.x), static_cast<GLint>(below),
              static_cast<GLsizei>((clip.z - clip.x) * scale.x),
              static_cast<GLsizei>((clip.w - clip.y) * scale.y));
    const auto colour = static_cast<ImU32>(reinterpret_cast<std::uintptr_t>(command->UserCallbackData));
    const ImVec4 part = ImGui::ColorConvertU32ToFloat4(colour);
    glClearColor(part.x, part.y, part.z, 1.0F);
    glClear(GL_COLOR_BUFFER_BIT);
}

} // namespace

void fill_opaque(ImDrawList* draw, ImVec2 from, ImVec2 to, ImU32 colour) {
    draw->PushClipRect(from, to); // all of a panel, its padding too
    draw->AddCallback(clear_clipped, reinterpret_cast<void*>(static_cast<std::uintptr_t>(colour)));
    draw->PopClipRect();
}

void begin_panel(const char* name, const Rect& place, ImU32 ground, ImGuiWindowFlags extra, bool form) {
    if (!form) extra |= ImGuiWindowFlags_NoNavInputs;
    ImGui::SetNextWindowPos(corner(place));
    ImGui::SetNextWindowSize({std::max(1.0F, place.width), std::max(1.0F, place.height)});
    ImGui::Begin(name, nullptr,
                 ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoCollapse |
                     ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoBackground | extra);
    // Not over the scroll bar, which is drawn by now.
    const float bar = ImGui::GetScrollMaxY() > 0.0F && !(extra & ImGuiWindowFlags_NoScrollbar)
                          ? ImGui::GetStyle().ScrollbarSize
                          : 0.0F;
    fill_opaque(ImGui::GetWindowDrawList(), corner(place),
                {place.x + place.width - bar, place.y + place.height}, ground);
}

void begin_sheet(const Look& look, const char* name, float width, float height) {
    const ImVec2 desk = ImGui::GetIO().DisplaySize;
    width = std::min(width, desk.x - 2.0F * look.unit);
    height = std::min(height, desk.y - 2.0F * look.unit);
    ImGui::SetNextWindowPos({0.5F * (desk.x - width), 0.5F * (desk.y - height)});
    ImGui::SetNextWindowSize({width, height});
    ImGui::SetNextWindowFocus();
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.0F);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{1.4F * look.unit, 1.1F * look.unit});
    ImGui::PushStyleColor(ImGuiCol_Border, look.colours.rope);
    ImGui::Begin(name, nullptr,
                 ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoCollapse);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar(2);
}

void text_in(ImFont* font, ImU32 colour, std::string_view text) {
    ImGui::PushFont(font);
    ImGui::PushStyleColor(ImGuiCol_Text, colour);
    ImGui::TextUnformatted(text.data(), text.data() + text.size());
    ImGui::PopStyleColor();
    ImGui::PopFont();
}

void quiet_text(const Look& look, std::string_view text) {
    text_in(look.body, look.colours.quiet, text);
}

void wrapped_text(std::string_view text, ImU32 colour) {
    const std::string said = with_keys(text);
    ImGui::PushStyleColor(ImGuiCol_Text, colour);
    ImGui::PushTextWrapPos(0.0F);
    ImGui::TextUnformatted(said.data(), said.data() + said.size());
    ImGui::PopTextWrapPos();
    ImGui::PopStyleColor();
}

ImVec2 text_size(ImFont* font, std::string_view text) {
    return font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, text.data(), text.data() + text.size());
}

std::string shortened(ImFont* font, const std::string& text, float room_px) {
    if (text_size(font, text).x <= room_px) return text;
    constexpr std::string_view dots = "…";
    const char* end = nullptr;
    font->CalcTextSizeA(font->FontSize, std::max(1.0F, room_px - text_size(font, dots).x), 0.0F, text.data(),
                        text.data() + text.size(), &end);
    return std::string{text.data(), end} + std::string{dots};
}

ImVec2 draw_text(ImDrawList* draw, ImFont* font, ImVec2 at, ImU32 colour, std::string_view text) {
    draw->AddText(font, font->FontSize, {std::round(at.x), std::round(at.y)}, colour, text.data(),
                  text.data() + text.size());
    return text_size(font, text);
}

float key_width(const Look& look, std::string_view chord, std::string_view label) {
    const float pad = 0.3F * look.unit;
    const float cap = std::max(text_size(look.strong, shown_chord(chord)).x + 2.0F * pad, 1.35F * look.unit);
    return cap + pad + text_size(look.body, label).x;
}

float draw_key(const Look& look, ImDrawList* draw, ImVec2 at, std::string_view chord,
               std::string_view label) {
    const float pad = 0.3F * look.unit;
    const std::string shown = shown_chord(chord);
    const ImVec2 size = text_size(look.strong, shown);
    const float cap = std::max(size.x + 2.0F * pad, 1.35F * look.unit);
    draw->AddRectFilled(at, {at.x + cap, at.y + 1.35F * look.unit}, look.colours.raised, 0.2F * look.unit);
    draw->AddRect(at, {at.x + cap, at.y + 1.35F * look.unit}, look.colours.edge, 0.2F * look.unit);
    draw_text(draw, look.strong, {at.x + 0.5F * (cap - size.x), at.y + 0.5F * (1.35F * look.unit - size.y)},
              look.colours.rope, shown);
    const ImVec2 words =
        draw_text(draw, look.body, {at.x + cap + pad, at.y + 0.5F * (1.35F * look.unit - size.y)},
                  look.colours.quiet, label);
    return cap + pad + words.x;
}

namespace {

ImVec2 chip_size(const Look& look, std::string_view key, std::string_view word) {
    const float key_width = key.empty() ? 0.0F : text_size(look.body, key).x + 0.35F * look.unit;
    return {text_size(look.body, word).x + key_width + 0.9F * look.unit, 1.5F * look.unit};
}

} // namespace

void wrap_chip(const Look& look, std::string_view key, std::string_view word, float right_edge) {
    const float start = ImGui::GetItemRectMax().x + 0.3F * look.unit;
    if (start + chip_size(look, key, word).x <= right_edge) {
        ImGui::SameLine(0.0F, 0.3F * look.unit);
    }
}

bool chip(const Look& look, const char* id, std::string_view key, std::string_view word, bool chosen,
          bool focused) {
    const Palette& c = look.colours;
    const ImVec2 size = chip_size(look, key, word);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const bool clicked = ImGui::InvisibleButton(id, size);
    const bool hovered = ImGui::IsItemHovered();
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const ImVec2 end{at.x + size.x, at.y + size.y};
    const float round = 0.25F * look.unit;
    draw->AddRectFilled(at, end, chosen ? c.rope : hovered ? c.edge : c.raised, round);
    if (focused && !chosen) draw->AddRect(at, end, faded(c.rope, 0.7F), round);
    float x = at.x + 0.45F * look.unit;
    const float y = at.y + 0.5F * (size.y - look.body->FontSize);
    if (!key.empty()) {
        x += draw_text(draw, look.body, {x, y},
                       chosen    ? faded(c.on_rope, 0.65F)
                       : focused ? c.rope
                                 : c.faint,
                       key)
                 .x +
             0.35F * look.unit;
    }
    draw_text(draw, look.body, {x, y}, chosen ? c.on_rope : c.text, word);
    return clicked;
}

bool word_button(const Look& look, const char* label, bool primary) {
    if (!primary) return ImGui::Button(label);
    ImGui::PushStyleColor(ImGuiCol_Button, look.colours.rope);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, faded(look.colours.rope, 0.85F));
    ImGui::PushStyleColor(ImGuiCol_Text, look.colours.on_rope);
    const bool pressed = ImGui::Button(label);
    ImGui::PopStyleColor(3);
    return pressed;
}

void draw_page_heading(const Look& look, std::string_view heading, const char* escape) {
    const std::string words = with_keys(escape);
    const float wide = text_size(look.body, words).x;
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    text_in(look.heading, look.colours.text, heading);
    if (ImGui::GetItemRectMax().x + look.unit + wide > right) return quiet_text(look, words);
    ImGui::SameLine();
    ImGui::SetCursorScreenPos({right - wide, ImGui::GetCursorScreenPos().y + 0.25F * look.unit});
    quiet_text(look, words);
}

std::string length_words(const Look& look, double metres) {
    return in_figures(metres, look.lengths);
}

std::string speed_words(const Look& look, double metres_per_s) {
    if (look.lengths == LengthUnit::feet) return fmt::format("{:.0f} ft/s", to_feet(metres_per_s));
    return fmt::format("{:.0f} m/s", metres_per_s);
}

std::string spread_words(const Look& look, double sigma_m) {
    if (look.lengths == LengthUnit::feet)
        return fmt::format("± {:.1f} in", std::ceil(10.0 * sigma_m / from_inches(1.0)) / 10.0);
    return fmt::format("± {:.0f} cm", std::ceil(100.0 * sigma_m));
}

std::string film_time(double seconds) {
    const char* sign = seconds < 0.0 ? "-" : "";
    const double size = std::abs(seconds);
    const int minutes = static_cast<int>(size / 60.0);
    return fmt::format("{}{}:{:06.3f}", sign, minutes, size - 60.0 * minutes);
}

} // namespace ropeline
