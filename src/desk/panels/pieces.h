// Small pieces that every panel is made of.
#pragma once

#include "desk/actions.h"
#include "desk/look.h"
#include "desk/state/layout.h"

#include <imgui.h>

#include <string>
#include <string_view>

namespace ropeline {

/// What every panel has beside the parts of the desk that it shows.
struct Panel {
    const Look& look;
    Rect place;
    Actions& actions; ///< what the coach did; carried out before the next turn is drawn
};

inline ImVec2 vec(ScreenPoint at) {
    return {at.x, at.y};
}
inline ImVec2 corner(const Rect& rect) {
    return {rect.x, rect.y};
}
inline ImVec2 far_corner(const Rect& rect) {
    return {rect.x + rect.width, rect.y + rect.height};
}
inline ImU32 faded(ImU32 colour, float share) {
    return (colour & 0x00FFFFFFU) | (static_cast<ImU32>(share * 255.0F) << IM_COL32_A_SHIFT);
}

/// A panel that is drawn into, and one that scrolls where it has not the room.
constexpr ImGuiWindowFlags a_drawing = ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse;
constexpr ImGuiWindowFlags it_scrolls = ImGuiWindowFlags_None;

/// A rectangle that hides what lies below. Cleared, not drawn: a software renderer would blend every pixel of
/// it with a texture first.
void fill_opaque(ImDrawList* draw, ImVec2 from, ImVec2 to, ImU32 colour);

/// Opens a fixed panel at a place of the layout; always pair with ImGui::End(). In a `form` Tab goes to the
/// first field; elsewhere it is the desk's own key.
void begin_panel(const char* name, const Rect& place, ImU32 ground, ImGuiWindowFlags extra = a_drawing,
                 bool form = false);
/// A page in the middle of the desk, over everything else, at most so large.
void begin_sheet(const Look& look, const char* name, float width, float height);

/// The page's heading, and at its right end what Escape does; below it where the two have no room beside each other.
void draw_page_heading(const Look& look, std::string_view heading,
                       const char* escape = "[put_down] closes this page");

void text_in(ImFont* font, ImU32 colour, std::string_view text);
void quiet_text(const Look& look, std::string_view text);
/// Commands in brackets are said by their keys.
void wrapped_text(std::string_view text, ImU32 colour);
/// Draws text at a place and returns its size.
ImVec2 draw_text(ImDrawList* draw, ImFont* font, ImVec2 at, ImU32 colour, std::string_view text);
ImVec2 text_size(ImFont* font, std::string_view text);
/// The text as it is, or its beginning with "…" behind it, so that it fits.
std::string shortened(ImFont* font, const std::string& text, float room_px);

float key_width(const Look& look, std::string_view chord,
                std::string_view label); ///< of what draw_key() draws
/// A key cap followed by what the key does, drawn from `at`; returns the width used.
float draw_key(const Look& look, ImDrawList* draw, ImVec2 at, std::string_view chord, std::string_view label);

/// A choice that can be clicked: its key number, its word. True when clicked.
bool chip(const Look& look, const char* id, std::string_view key, std::string_view word, bool chosen,
          bool focused);
/// Moves to a new line when the next chip of this word would not fit.
void wrap_chip(const Look& look, std::string_view key, std::string_view word, float right_edge);

bool word_button(const Look& look, const char* label, bool primary = false);

constexpr double pad_height_m = 0.1; ///< over the ice, when a pad is marked instead of the blade
/// "1.21 m", or "4.0 ft" where the coach reads feet.
std::string length_words(const Look& look, double metres);
/// "35 m/s", or "115 ft/s" where the coach reads feet.
std::string speed_words(const Look& look, double metres_per_s);
/// One standard deviation of it: "± 3 cm", "± 1.2 in".
std::string spread_words(const Look& look, double sigma_m);
std::string film_time(double seconds); ///< "0:12.433"

} // namespace ropeline
