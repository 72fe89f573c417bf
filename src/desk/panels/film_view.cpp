// The picture, the loupe under the hand, and what the mouse does to marks.
#include "desk/panels/film_overlay.h"

#include "camera/fit_advice.h"
#include "desk/state/ghosts.h"
#include "rink/curves.h"
#include "season/clock_words.h"
#include "season/game_clock.h"

#include <SDL_opengl.h>
#include <fmt/core.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace ropeline {

namespace {

constexpr float grab_px = 10.0F;

/// What the loupe asks for at this spot, and what missing it by a decimetre of height would do.
std::string loupe_words(const App& app, ImagePoint at) {
    const LogState& log = app.book->state();
    Hand hand = log.selection.hand();
    if (app.drag && app.drag->mark) {
        const Moment* moment = moment_in_hand(log);
        const bool puck = moment && *app.drag->mark < moment->marks.size() &&
                          moment->marks[*app.drag->mark].kind == MarkKind::puck;
        hand = puck ? Hand::puck : Hand::goalie;
    }
    if (log.selection.fit() || hand == Hand::empty || hand == Hand::puck) return {};
    std::string words = "skate on the ice";
    const FitHere here = fit_here(log, number(app.player.frame));
    if (const auto bias = here.fit ? height_bias(*here.fit, at) : std::nullopt)
        words += fmt::format("\n0.1 m too high\nis {:.2f} m off", bias->shift_m);
    return words;
}

void draw_loupe(const App& app, ImDrawList* draw, ImVec2 mouse, ImagePoint at) {
    const float unit = app.look.unit;
    const float size = 9.0F * unit;
    constexpr float magnified = 8.0F;
    const Rect& panel = app.view.panel;
    ImVec2 from{mouse.x + 2.0F * unit, mouse.y - size - 1.5F * unit};
    if (from.x + size > panel.x + panel.width) from.x = mouse.x - size - 2.0F * unit;
    if (from.y < panel.y) from.y = mouse.y + 2.0F * unit;
    const auto width = static_cast<float>(app.view.shown.width_px);
    const auto height = static_cast<float>(app.view.shown.height_px);
    const float half = 0.5F * size / magnified;
    const auto x = static_cast<float>(at.x_px);
    const auto y = static_cast<float>(at.y_px);
    draw->AddRectFilled(from, {from.x + size, from.y + size}, IM_COL32(0, 0, 0, 255));
    draw->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(app.texture.id())), from,
                   {from.x + size, from.y + size}, {(x - half) / width, (y - half) / height},
                   {(x + half) / width, (y + half) / height});
    const ImVec2 middle{from.x + 0.5F * size, from.y + 0.5F * size};
    const ImU32 hair = app.look.colours.rope;
    draw->AddLine({from.x, middle.y}, {middle.x - 0.5F * unit, middle.y}, hair, app.look.pen(1.0F));
    draw->AddLine({middle.x + 0.5F * unit, middle.y}, {from.x + size, middle.y}, hair, app.look.pen(1.0F));
    draw->AddLine({middle.x, from.y}, {middle.x, middle.y - 0.5F * unit}, hair, app.look.pen(1.0F));
    draw->AddLine({middle.x, middle.y + 0.5F * unit}, {middle.x, from.y + size}, hair, app.look.pen(1.0F));
    draw->AddRect(from, {from.x + size, from.y + size}, hair, 0.0F, 0, app.look.pen(1.5F));
    const std::string words = loupe_words(app, at);
    if (words.empty()) return;
    const ImFont* font = app.look.body;
    const ImVec2 room = font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, words.c_str());
    draw->AddRectFilled({from.x, from.y + size}, {from.x + size, from.y + size + room.y + 0.4F * unit},
                        faded(app.look.colours.ground, 0.88F));
    draw->AddText(font, font->FontSize, {from.x + 0.3F * unit, from.y + size + 0.2F * unit},
                  app.look.colours.text, words.c_str());
}

/// What the hand is about to do, in the top-left corner of the picture.
std::string hand_words(const App& app) {
    const LogState& log = app.book->state();
    switch (log.selection.hand()) {
    case Hand::first_skate:
        return "Click one skate of the goalie where the blade touches the ice.   [mark_goalie]: one point "
               "instead";
    case Hand::second_skate:
        return "Click the other skate.";
    case Hand::goalie:
        return "Click the ice between the goalie's skates.   [mark_skates]: both skates instead";
    case Hand::puck:
        return "Click the puck.";
    case Hand::threat:
        return "Click an opponent a pass could reach, where his skates touch the ice. Nobody: go on with the "
               "card.";
    case Hand::landmark: {
        if (!log.selection.fit() || log.selection.fit()->offered.empty())
            return "Sharp enough: [take_shot] keeps the fit. Any other point or line can be picked on the "
                   "plan.";
        const RuleBook& rules = rule_book(log.selection.fit()->rules);
        return fmt::format("Click {} {}.   [other_landmark]: another, or pick one on the plan",
                           find_curve(rules, log.selection.fit()->offered) ? "anywhere on the" : "the",
                           label_of(rules, log.selection.fit()->offered));
    }
    case Hand::empty:
        break;
    }
    return {};
}

/// Offers the marks of the moment before while the hand asks for some of them.
std::string ghost_words(const App& app) {
    const LogState& log = app.book->state();
    if (log.selection.hand() == Hand::empty) return {};
    const auto offered =
        ghosts_asked_for(ghosts(log, number(app.player.frame), app.view.shown), log.selection.hand());
    if (offered.empty()) return {};
    return offered.size() == 1 ? "   [take_ghosts]: keep the faint mark"
                               : "   [take_ghosts]: keep the faint marks";
}

/// Words on a strip over the picture, wrapped to its width; `from_bottom` stands them on the lower edge.
void draw_words(const App& app, ImDrawList* draw, const Rect& place, std::string_view text, ImU32 colour,
                ImU32 edge, bool from_bottom) {
    const ImFont* font = app.look.strong;
    const float gap = 0.6F * app.look.unit;
    const float pad = 0.5F * app.look.unit;
    const float room = place.width - 2.0F * gap - 2.0F * pad;
    const ImVec2 size =
        font->CalcTextSizeA(font->FontSize, 1e6F, room, text.data(), text.data() + text.size());
    const float height = size.y + pad;
    const ImVec2 at{place.x + gap, from_bottom ? place.y + place.height - gap - height : place.y + gap};
    draw->AddRectFilled(at, {at.x + size.x + 2.0F * pad, at.y + height},
                        faded(app.look.colours.ground, 0.88F));
    draw->AddRectFilled(at, {at.x + 0.2F * app.look.unit, at.y + height}, edge);
    draw->AddText(font, font->FontSize, {at.x + pad + 0.1F * app.look.unit, at.y + 0.5F * pad}, colour,
                  text.data(), text.data() + text.size(), room);
}

/// How the rink in this frame is known, when a coach should think twice; empty when it is sure.
std::string fit_words(const App& app) {
    const LogState& log = app.book->state();
    if (log.selection.fit() || !app.on_screen) return {};
    const FitHere here = fit_here(log, number(*app.on_screen));
    switch (here.source) {
    case FitHere::Source::none:
    case FitHere::Source::clicked:
        return {};
    case FitHere::Source::carried:
        if (here.state == CarryState::held) return {};
        return fmt::format("rink unsure here, a place is off by ± {:.2f} m: [fit_rink] fits it again",
                           here.sigma_m);
    case FitHere::Source::assumed:
        return fmt::format(
            "rink taken over from frame {}: right only if the camera stood still. [fit_rink] fits it here",
            here.key->frame);
    case FitHere::Source::lost:
        return "rink lost here: [fit_rink] fits it again";
    }
    return {};
}

/// The game clock of the frame on screen; empty without clock marks.
std::string clock_here(const App& app) {
    const LogState& log = app.book->state();
    const auto frames = frames_of(app);
    if (!frames || !app.on_screen) return {};
    const auto time = game_time_at(clock_marks_of(log, open_film(log)), frames->seconds_of(*app.on_screen));
    if (!time) return {};
    return game_time_words(time->period, time->clock_s) + (time->standing ? "  stands" : "");
}

/// In the top-right corner of the picture. Out: the width it takes from the words beside it.
float draw_clock_here(const App& app, ImDrawList* draw, const Rect& place) {
    const std::string words = clock_here(app);
    if (words.empty()) return 0.0F;
    const Look& look = app.look;
    const ImVec2 size = text_size(look.heading, words);
    const float gap = 0.6F * look.unit;
    const float pad = 0.5F * look.unit;
    const ImVec2 at{place.x + place.width - gap - size.x - 2.0F * pad, place.y + gap};
    draw->AddRectFilled(at, {at.x + size.x + 2.0F * pad, at.y + size.y + pad},
                        faded(look.colours.ground, 0.88F));
    draw_text(draw, look.heading, {at.x + pad, at.y + 0.5F * pad}, look.colours.text, words);
    return size.x + 2.0F * pad + gap;
}

/// The field for the game clock, at the top of the picture.
void draw_clock_field(App& app, const Rect& place) {
    const Look& look = app.look;
    const bool sets = app.clock_field == ClockField::set;
    const float width = std::min(30.0F * look.unit, place.width - 2.0F * look.unit);
    const Rect box{place.x + 0.5F * (place.width - width), place.y + 3.2F * look.unit, width,
                   5.8F * look.unit};
    ImGui::SetCursorScreenPos(corner(box));
    ImGui::PushStyleColor(ImGuiCol_ChildBg, look.colours.panel);
    ImGui::PushStyleColor(ImGuiCol_Border, look.colours.rope);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0.8F * look.unit, 0.6F * look.unit});
    ImGui::BeginChild("game clock", {box.width, box.height}, true,
                      ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NoScrollbar);
    text_in(look.strong, look.colours.text, sets ? "The game clock shows here" : "Go to the game clock");
    if (!ImGui::IsAnyItemActive()) ImGui::SetKeyboardFocusHere();
    ImGui::SetNextItemWidth(-1.0F);
    if (ImGui::InputTextWithHint("##clock", "2 14:35", &app.clock_entry,
                                 ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll)) {
        if (sets) {
            app.actions.push_back(SetClock{app.clock_entry});
        } else {
            app.actions.push_back(GoToClock{app.clock_entry});
        }
        app.clock_sent = true;
    }
    quiet_text(app, sets ? "14:35 alone: same period.  stop, go: stands, runs" : "14:35 alone: this period");
    ImGui::EndChild();
    ImGui::PopStyleVar();
    ImGui::PopStyleColor(2);
}

void handle_mouse(App& app, ImVec2 mouse) {
    const LogState& log = app.book->state();
    const ImagePoint at = app.view.to_image({mouse.x, mouse.y});
    if (ImGui::IsItemHovered() && ImGui::GetIO().MouseWheel != 0.0F) {
        app.view = zoomed(app.view, std::pow(1.25, ImGui::GetIO().MouseWheel), {mouse.x, mouse.y});
    }
    if (ImGui::IsItemHovered() && ImGui::IsMouseDragging(ImGuiMouseButton_Right) && app.view.zoom > 1.0) {
        const ImVec2 by = ImGui::GetIO().MouseDelta;
        app.view.centre.x_px -= by.x / app.view.scale();
        app.view.centre.y_px -= by.y / app.view.scale();
    }
    if (ImGui::IsItemClicked(ImGuiMouseButton_Left)) {
        for (const Handle& handle : handles_of(log, number(app.player.frame))) {
            const ScreenPoint there = app.view.to_screen(handle.at);
            if (std::hypot(there.x - mouse.x, there.y - mouse.y) > grab_px) continue;
            if (!log.selection.fit() && log.selection.hand() != Hand::empty &&
                log.selection.hand() != Hand::threat)
                continue;
            app.drag = Drag{handle.mark, handle.click, {handle.at.x_px - at.x_px, handle.at.y_px - at.y_px}};
            if (handle.mark) app.actions.push_back(HoldMark{*handle.mark});
        }
        if (!app.drag && log.selection.hand() != Hand::empty) app.actions.push_back(FilmClick{at});
    }
    if (!app.drag) return;
    const ImagePoint to{at.x_px + app.drag->offset.x_px, at.y_px + app.drag->offset.y_px};
    const bool done = !ImGui::IsMouseDown(ImGuiMouseButton_Left);
    const bool moved = ImGui::GetIO().MouseDelta.x != 0.0F || ImGui::GetIO().MouseDelta.y != 0.0F;
    const bool travelled = ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 2.0F).x != 0.0F ||
                           ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 2.0F).y != 0.0F;
    if (app.drag->click && moved && travelled) app.actions.push_back(DragClick{*app.drag->click, to});
    if (app.drag->mark && travelled && (moved || done))
        app.actions.push_back(DragMark{*app.drag->mark, to, done});
    if (done) app.drag.reset();
}

void draw_no_picture(App& app, const Rect& place) {
    const LogState& log = app.book->state();
    std::string heading = "No film is open";
    std::string words = "Drop a film of the game on the desk, or press [games] to type where it is.";
    ImU32 colour = app.look.colours.quiet;
    if (app.film && app.film->state() == FilmDesk::State::opening) {
        heading = "Opening " + std::filesystem::path(app.film_path).filename().string();
        words = fmt::format("Reading which frames it has: {:.0f} %", 100.0 * app.film->progress());
    } else if (app.film && app.film->state() == FilmDesk::State::failed) {
        heading = std::filesystem::path(app.film_path).filename().string() + " cannot be shown";
        words = app.film->error();
        if (!log.shots.empty()) {
            words += fmt::format("\n\nNothing is lost: the {} shots of this game stay. Drop the film on the "
                                 "desk, or press [games] and say where it is now.",
                                 log.shots.size());
        }
        colour = app.look.colours.trouble;
    } else if (app.film) {
        const std::string missing = app.film->missing(app.player.frame);
        heading = missing.empty() ? "" : fmt::format("Frame {} is missing", number(app.player.frame));
        words = missing;
    }
    words = with_keys(words);
    const float width = std::min(34.0F * app.look.unit, place.width - 4.0F * app.look.unit);
    ImGui::SetCursorScreenPos({place.x + 0.5F * (place.width - width), place.y + 0.36F * place.height});
    ImGui::BeginGroup();
    ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width);
    text_in(app.look.heading, app.look.colours.text, heading);
    ImGui::PushStyleColor(ImGuiCol_Text, colour);
    ImGui::TextUnformatted(words.c_str());
    ImGui::PopStyleColor();
    ImGui::PopTextWrapPos();
    ImGui::EndGroup();
}

} // namespace

void draw_film_view(App& app, const Rect& place) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0.0F, 0.0F});
    begin_panel("film", place, app.look.colours.ground, ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::PopStyleVar();
    app.view.panel = place;
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const LogState& log = app.book->state();
    const bool right_frame = app.on_screen == app.player.frame;
    if (!app.texture.filled() || (!right_frame && app.film && !app.film->missing(app.player.frame).empty())) {
        draw_no_picture(app, place);
    } else {
        const ImVec2 from = vec(app.view.to_screen({0.0, 0.0}));
        const ImVec2 to = vec(app.view.to_screen(
            {static_cast<double>(app.view.shown.width_px), static_cast<double>(app.view.shown.height_px)}));
        // The picture hides what lies below; blending all of it would cost a software renderer milliseconds.
        draw->AddCallback([](const ImDrawList*, const ImDrawCmd*) { glDisable(GL_BLEND); }, nullptr);
        draw->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(app.texture.id())), from,
                       to);
        draw->AddCallback(ImDrawCallback_ResetRenderState, nullptr);
        ImGui::SetCursorScreenPos(corner(place));
        ImGui::InvisibleButton("picture", {place.width, place.height},
                               ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight);
        const ImVec2 mouse = ImGui::GetIO().MousePos;
        const bool hovered = ImGui::IsItemHovered();
        draw->PushClipRect({std::max(from.x, place.x), std::max(from.y, place.y)},
                           {std::min(to.x, place.x + place.width), std::min(to.y, place.y + place.height)},
                           true);
        draw_overlay(app, draw);
        draw->PopClipRect();
        // Clicks belong to the frame that is seen: while another is awaited, none is taken.
        if (right_frame && app.side == Side::log) {
            draw->PushClipRect(corner(place), far_corner(place), true);
            handle_mouse(app, mouse);
            const bool aims = log.selection.hand() != Hand::empty || app.drag;
            if (hovered && aims) {
                ImagePoint at = app.view.to_image({mouse.x, mouse.y});
                if (app.drag) at = {at.x_px + app.drag->offset.x_px, at.y_px + app.drag->offset.y_px};
                draw_loupe(app, draw, mouse, at);
            }
            draw->PopClipRect();
        }
    }
    const Palette& c = app.look.colours;
    Rect beside_clock = place;
    beside_clock.width -= draw_clock_here(app, draw, place);
    if (const std::string words = with_keys(hand_words(app) + ghost_words(app)); !words.empty())
        draw_words(app, draw, beside_clock, words, c.text, c.rope, false);
    if (const std::string words = with_keys(fit_words(app));
        !words.empty() && log.selection.hand() == Hand::empty) {
        draw_words(app, draw, beside_clock, words, c.quiet, c.rope, false);
    }
    if (app.clock_field != ClockField::closed) draw_clock_field(app, place);
    if (const Notice& notice = log.notice; !notice.text.empty()) {
        draw_words(app, draw, place, notice.text, notice.trouble ? c.trouble : c.text,
                   notice.trouble ? c.trouble : c.save, true);
    }
    ImGui::End();
}

} // namespace ropeline
