// Small pieces that every panel is made of.
#pragma once

#include "desk/app.h"
#include "desk/look.h"
#include "desk/state/ice_drawing.h"
#include "desk/state/judged.h"

#include <imgui.h>

#include <string>
#include <string_view>

namespace ropeline {

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

/// A rectangle that hides what lies below. Cleared, not drawn: a software renderer would blend every pixel of
/// it with a texture first.
void fill_opaque(ImDrawList* draw, ImVec2 from, ImVec2 to, ImU32 colour);

/// Opens a fixed panel at a place of the layout; always pair with ImGui::End(). In a `form` Tab goes to the
/// first field; elsewhere it is the desk's own key.
void begin_panel(const char* name, const Rect& place, ImU32 ground, ImGuiWindowFlags extra = 0,
                 bool form = false);
/// A page in the middle of the desk, over everything else.
void begin_sheet(const App& app, const char* name, float width, float height);

void text_in(ImFont* font, ImU32 colour, std::string_view text);
void quiet_text(const App& app, std::string_view text);
void wrapped_text(const App& app, std::string_view text, ImU32 colour);
/// Draws text at a place and returns its size.
ImVec2 draw_text(ImDrawList* draw, ImFont* font, ImVec2 at, ImU32 colour, std::string_view text);
ImVec2 text_size(ImFont* font, std::string_view text);
/// The text as it is, or its beginning with "…" behind it, so that it fits.
std::string shortened(ImFont* font, const std::string& text, float room_px);

/// A key cap followed by what the key does, drawn from `at`; returns the width used.
float draw_key(const App& app, ImDrawList* draw, ImVec2 at, std::string_view chord, std::string_view label);

/// A choice that can be clicked: its key number, its word. True when clicked.
bool chip(const App& app, const char* id, std::string_view key, std::string_view word, bool chosen,
          bool focused);
/// Moves to a new line when the next chip of this word would not fit.
void wrap_chip(const App& app, std::string_view key, std::string_view word, float right_edge);

bool word_button(const App& app, const char* label, bool primary = false);

std::string metres(double value);          ///< "1.21 m"
std::string metres_and_feet(double value); ///< "1.21 m (4.0 ft)"
std::string film_time(double seconds);     ///< "0:12.433"

/// The moment in hand with the goalie where he is tried, when he is.
std::optional<Moment> shown_moment(const App& app);
std::optional<Judged> judged_in_hand(const App& app);
/// Everything to draw on the ice for it.
std::vector<IceLine> lines_in_hand(const App& app);

// The panels. Each draws one part of the desk and adds what the coach did to app.actions.
void draw_header(App& app, const Rect& place);
void draw_film_view(App& app, const Rect& place);
/// The goal mouth from the puck, with a block of the season's width and height where the goalie stands.
void draw_puck_eye(const App& app, ImDrawList* draw, const Rect& place, const Stance& stance, IcePoint puck,
                   const RuleBook& rules, const Parameters& parameters);
void draw_decision(App& app, const Rect& place);
void draw_parameters_page(App& app, float width, float height);
void draw_ribbon(App& app, const Rect& place);
void draw_key_strip(App& app, const Rect& place);
void draw_shot_card(App& app, const Rect& place);
void draw_plan(App& app, const Rect& place);
void draw_reading(App& app, const Rect& place);
void draw_shot_list(App& app, const Rect& place);
void draw_guide(App& app, const Rect& place); ///< needs app.guide
/// The shot list on the whole page.
void draw_list_page(App& app, const Rect& place);
/// A scorer's list: how each column is read, what comes in, what is refused and why.
void draw_scorer_list(App& app, const Rect& place);
void draw_fit_plan(App& app, const Rect& place);
void draw_fit_card(App& app, const Rect& place);
void draw_first_run(App& app, const Rect& place);
void draw_games_page(App& app, float width, float height);
void draw_key_sheet(App& app, float width, float height);
/// The plan under study: the play without the goalie until he is placed by a click.
void draw_study_plan(App& app, const Rect& place);
void draw_season_side(App& app, const Rect& place);
void draw_study_side(App& app, const Rect& place);

} // namespace ropeline
