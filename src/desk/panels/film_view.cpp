// The picture, the rink drawn over its ice, the marks, and the loupe under the hand.
#include "desk/panels/ui.h"

#include "desk/state/ice_drawing.h"
#include "rink/landmarks.h"
#include "rink/paint.h"
#include "rink/units.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace ropeline {

namespace {

constexpr float grab_px = 10.0F;

struct Handle {
    std::optional<MarkKind> mark;
    std::optional<std::size_t> click;
    ImagePoint at;
};

std::vector<Handle> handles_of(const LogState& log, std::int64_t frame) {
    std::vector<Handle> handles;
    if (log.fit) {
        if (log.fit->frame != frame) return handles;
        for (std::size_t index = 0; index < log.fit->clicks.size(); ++index) {
            handles.push_back({{}, index, log.fit->clicks[index].at});
        }
        return handles;
    }
    const ShotEntry* entry = chosen_shot(log);
    const Moment* moment = entry ? main_moment(*entry) : nullptr;
    if (!moment || moment->frame != frame) return handles;
    for (const Mark& mark : moment->marks) {
        if (mark.at) handles.push_back({mark.kind, {}, *mark.at});
    }
    return handles;
}

ImU32 paint_colour(PaintKind kind, const Palette& c) {
    switch (kind) {
    case PaintKind::goal_line:
    case PaintKind::crease:
    case PaintKind::red_line:
    case PaintKind::circle:
    case PaintKind::spot:
    case PaintKind::hash:
    case PaintKind::l_mark:
    case PaintKind::trapezoid:
        return c.red_paint;
    case PaintKind::blue_line:
        return c.blue_paint;
    case PaintKind::boards:
    case PaintKind::net:
        return c.boards;
    }
    return c.boards;
}

void draw_ice_line(const App& app, ImDrawList* draw, const RinkFit& fit, const std::vector<IcePoint>& line,
                   ImU32 colour, float width) {
    std::vector<ImVec2> screen;
    for (const auto& piece : in_picture(fit, line, app.view.shown)) {
        screen.clear();
        for (const ImagePoint at : piece)
            screen.push_back(vec(app.view.to_screen(at)));
        draw->AddPolyline(screen.data(), static_cast<int>(screen.size()), colour, ImDrawFlags_None, width);
    }
}

void draw_rink(const App& app, ImDrawList* draw, const RinkFit& fit, RuleBookId rules, float strength) {
    for (const PaintLine& line : rink_paint(rule_book(rules))) {
        draw_ice_line(app, draw, fit, line.points, faded(paint_colour(line.kind, app.look.colours), strength),
                      std::max(1.0F, 0.1F * app.look.unit));
    }
}

void draw_moment(const App& app, ImDrawList* draw, const RinkFit& fit, const Moment& moment,
                 RuleBookId rules) {
    const Palette& c = app.look.colours;
    const float thin = 0.09F * app.look.unit;
    for (const IceLine& line : moment_lines(moment, rule_book(rules), app.book->state().season.parameters)) {
        switch (line.kind) {
        case IceLineKind::rope:
            draw_ice_line(app, draw, fit, line.points, faded(c.rope, 0.85F), 1.4F * thin);
            break;
        case IceLineKind::puck_line:
            draw_ice_line(app, draw, fit, line.points, faded(c.text, 0.6F), thin);
            break;
        case IceLineKind::band:
            draw_ice_line(app, draw, fit, line.points, faded(c.bands[static_cast<int>(*line.band)], 0.55F),
                          5.0F * thin);
            break;
        case IceLineKind::depth:
            draw_ice_line(app, draw, fit, line.points, c.text, 2.0F * thin);
            break;
        case IceLineKind::off_angle:
            draw_ice_line(app, draw, fit, line.points, c.trouble, 2.0F * thin);
            break;
        case IceLineKind::stance:
            draw_ice_line(app, draw, fit, line.points, c.text, 2.0F * thin);
            break;
        case IceLineKind::block:
            draw_ice_line(app, draw, fit, line.points, c.rope, 3.0F * thin);
            break;
        }
    }
}

void draw_mark(const App& app, ImDrawList* draw, const Handle& handle, bool held) {
    const Palette& c = app.look.colours;
    const ImVec2 at = vec(app.view.to_screen(handle.at));
    const float r = 0.42F * app.look.unit;
    const ImU32 colour = held ? c.rope : IM_COL32(255, 255, 255, 235);
    const ImU32 under = IM_COL32(0, 0, 0, 200);
    if (handle.mark == MarkKind::puck) {
        draw->AddCircle(at, r, under, 0, 4.0F);
        draw->AddCircle(at, r, colour, 0, 2.0F);
        draw->AddCircleFilled(at, 1.6F, colour);
    } else if (handle.mark == MarkKind::threat) {
        draw->AddRect({at.x - r, at.y - r}, {at.x + r, at.y + r}, under, 0.0F, 0, 4.0F);
        draw->AddRect({at.x - r, at.y - r}, {at.x + r, at.y + r}, colour, 0.0F, 0, 2.0F);
    } else if (handle.click) {
        draw->AddLine({at.x - r, at.y}, {at.x + r, at.y}, under, 4.0F);
        draw->AddLine({at.x, at.y - r}, {at.x, at.y + r}, under, 4.0F);
        draw->AddLine({at.x - r, at.y}, {at.x + r, at.y}, colour, 2.0F);
        draw->AddLine({at.x, at.y - r}, {at.x, at.y + r}, colour, 2.0F);
    } else {
        // A chevron that stands on the blade: the point is where the skate touches the ice.
        draw->AddTriangle({at.x - r, at.y - 1.6F * r}, at, {at.x + r, at.y - 1.6F * r}, under, 4.0F);
        draw->AddTriangle({at.x - r, at.y - 1.6F * r}, at, {at.x + r, at.y - 1.6F * r}, colour, 2.0F);
        if (handle.mark == MarkKind::skate_left || handle.mark == MarkKind::skate_right) {
            const char* letter = handle.mark == MarkKind::skate_left ? "L" : "R";
            draw_text(draw, app.look.strong,
                      {at.x - 0.3F * app.look.unit, at.y - 1.6F * r - 1.2F * app.look.unit}, colour, letter);
        }
    }
}

/// The ellipse on the ice that holds the true place 95 times in 100, from fit and click.
void draw_halo(const App& app, ImDrawList* draw, const RinkFit& fit, const Mark& mark) {
    if (!mark.ice || !mark.sigma) return;
    const double middle = 0.5 * (mark.sigma->xx + mark.sigma->yy);
    const double spread = std::hypot(0.5 * (mark.sigma->xx - mark.sigma->yy), mark.sigma->xy);
    const double angle = 0.5 * std::atan2(2.0 * mark.sigma->xy, mark.sigma->xx - mark.sigma->yy);
    const double long_m =
        2.4477 * std::sqrt(std::max(0.0, middle + spread)); // sqrt of the 95 % point of chi-square, 2 d.f.
    const double short_m = 2.4477 * std::sqrt(std::max(0.0, middle - spread));
    std::vector<IcePoint> ring;
    for (int step = 0; step <= 32; ++step) {
        const double turn = 2.0 * pi * step / 32.0;
        const double along = long_m * std::cos(turn);
        const double across = short_m * std::sin(turn);
        ring.push_back(*mark.ice + IcePoint{along * std::cos(angle) - across * std::sin(angle),
                                            along * std::sin(angle) + across * std::cos(angle)});
    }
    draw_ice_line(app, draw, fit, ring, faded(app.look.colours.rope, 0.9F), 1.0F);
}

/// Residuals ten times their length, so that an error of a pixel can be seen.
void draw_residuals(const App& app, ImDrawList* draw, const FitDraft& draft) {
    if (!draft.fit) return;
    for (std::size_t index = 0; index < draft.clicks.size() && index < draft.fit->residuals.size(); ++index) {
        const ImagePoint at = draft.clicks[index].at;
        const ImagePoint off = draft.fit->residuals[index];
        const ImVec2 from = vec(app.view.to_screen(at));
        const ImVec2 to = vec(app.view.to_screen({at.x_px - 10.0 * off.x_px, at.y_px - 10.0 * off.y_px}));
        draw->AddLine(from, to, app.look.colours.trouble, 2.0F);
    }
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
    draw->AddLine({from.x, middle.y}, {middle.x - 0.5F * unit, middle.y}, hair);
    draw->AddLine({middle.x + 0.5F * unit, middle.y}, {from.x + size, middle.y}, hair);
    draw->AddLine({middle.x, from.y}, {middle.x, middle.y - 0.5F * unit}, hair);
    draw->AddLine({middle.x, middle.y + 0.5F * unit}, {middle.x, from.y + size}, hair);
    draw->AddRect(from, {from.x + size, from.y + size}, hair, 0.0F, 0, 1.5F);
}

/// What the hand is about to do, in the top-left corner of the picture.
std::string hand_words(const App& app) {
    const LogState& log = app.book->state();
    switch (log.hand) {
    case Hand::first_skate:
        return "Click one skate of the goalie where the blade touches the ice.   G: one point instead";
    case Hand::second_skate:
        return "Click the other skate.";
    case Hand::goalie:
        return "Click the ice between the goalie's skates.   S: both skates instead";
    case Hand::puck:
        return "Click the puck.";
    case Hand::landmark: {
        const auto landmark =
            log.fit ? find_landmark(rule_book(log.fit->rules), log.fit->offered) : std::nullopt;
        if (!landmark) return "Sharp enough: Enter keeps the fit. Any other point can be picked on the plan.";
        return fmt::format("Click the {}.   X: another, or pick one on the plan", landmark->label);
    }
    case Hand::empty:
        break;
    }
    return {};
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

void draw_overlay(App& app, ImDrawList* draw) {
    const LogState& log = app.book->state();
    const std::int64_t frame = number(app.on_screen.value_or(app.player.frame));
    if (log.fit) {
        if (log.fit->fit) draw_rink(app, draw, *log.fit->fit, log.fit->rules, 0.9F);
        draw_residuals(app, draw, *log.fit);
    } else if (const FitHere here = fit_here(log, frame); here.fit) {
        draw_rink(app, draw, *here.fit, here.key->rules, here.state == CarryState::held ? 0.42F : 0.25F);
        const ShotEntry* entry = chosen_shot(log);
        const Moment* moment = entry ? main_moment(*entry) : nullptr;
        if (moment && moment->frame == frame) {
            draw_moment(app, draw, *here.fit, *moment, here.key->rules);
            for (const Mark& mark : moment->marks)
                draw_halo(app, draw, *here.fit, mark);
        }
    }
    for (const Handle& handle : handles_of(log, frame)) {
        draw_mark(app, draw, handle, handle.mark && handle.mark == log.held);
    }
}

/// How the rink in this frame is known, when a coach should think twice; empty when it is sure.
std::string fit_words(const App& app) {
    const LogState& log = app.book->state();
    if (log.fit || !app.on_screen) return {};
    const FitHere here = fit_here(log, number(*app.on_screen));
    switch (here.source) {
    case FitHere::Source::none:
    case FitHere::Source::clicked:
        return {};
    case FitHere::Source::carried:
        if (here.state == CarryState::held) return {};
        return fmt::format("rink unsure here, a place is off by ± {:.2f} m: F fits it again", here.sigma_m);
    case FitHere::Source::assumed:
        return fmt::format(
            "rink taken over from frame {}: right only if the camera stood still. F fits it here",
            here.key->frame);
    case FitHere::Source::lost:
        return "rink lost here: F fits it again";
    }
    return {};
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
            if (!log.fit && log.hand != Hand::empty) continue;
            app.drag = Drag{handle.mark, handle.click, {handle.at.x_px - at.x_px, handle.at.y_px - at.y_px}};
            if (handle.mark) app.actions.push_back(HoldMark{*handle.mark});
        }
        if (!app.drag && log.hand != Hand::empty) app.actions.push_back(FilmClick{at});
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
    std::string words = "Drop a film of the game on the desk, or press O to type where it is.";
    ImU32 colour = app.look.colours.quiet;
    if (app.film && app.film->state() == FilmDesk::State::opening) {
        heading = "Opening " + std::filesystem::path(app.film_path).filename().string();
        words = fmt::format("Reading which frames it has: {:.0f} %", 100.0 * app.film->progress());
    } else if (app.film && app.film->state() == FilmDesk::State::failed) {
        heading = std::filesystem::path(app.film_path).filename().string() + " cannot be shown";
        words = app.film->error();
        if (!log.shots.empty()) {
            words += fmt::format(
                "\n\nNothing is lost: the {} shots of this game stay. Drop the film on the desk, or press O "
                "and say where it is now.",
                log.shots.size());
        }
        colour = app.look.colours.trouble;
    } else if (app.film) {
        const std::string missing = app.film->missing(app.player.frame);
        heading = missing.empty() ? "" : fmt::format("Frame {} is missing", number(app.player.frame));
        words = missing;
    }
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
        draw->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(app.texture.id())), from,
                       to);
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
        if (right_frame) {
            draw->PushClipRect(corner(place), far_corner(place), true);
            handle_mouse(app, mouse);
            const bool aims = log.hand != Hand::empty || app.drag;
            if (hovered && aims) {
                ImagePoint at = app.view.to_image({mouse.x, mouse.y});
                if (app.drag) at = {at.x_px + app.drag->offset.x_px, at.y_px + app.drag->offset.y_px};
                draw_loupe(app, draw, mouse, at);
            }
            draw->PopClipRect();
        }
    }
    const Palette& c = app.look.colours;
    if (const std::string words = hand_words(app); !words.empty())
        draw_words(app, draw, place, words, c.text, c.rope, false);
    if (const std::string words = fit_words(app); !words.empty() && log.hand == Hand::empty) {
        draw_words(app, draw, place, words, c.quiet, c.rope, false);
    }
    if (const Notice& notice = log.notice; !notice.text.empty()) {
        draw_words(app, draw, place, notice.text, notice.trouble ? c.trouble : c.text,
                   notice.trouble ? c.trouble : c.save, true);
    }
    ImGui::End();
}

} // namespace ropeline
