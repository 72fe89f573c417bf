// The picture, the loupe under the hand, and what the mouse does to marks.
#include "desk/panels/film_view.h"

#include "desk/panels/film_overlay.h"
#include "desk/panels/loupe.h"
#include "desk/panels/right_click_menu.h"

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

/// Words on a strip over the picture, wrapped to its width; `from_bottom` stands them on the lower edge.
void draw_words(const Look& look, ImDrawList* draw, const Rect& place, std::string_view text, ImU32 colour,
                ImU32 edge, bool from_bottom) {
    const ImFont* font = look.strong;
    const float gap = 0.6F * look.unit;
    const float pad = 0.5F * look.unit;
    const float room = place.width - 2.0F * gap - 2.0F * pad;
    const ImVec2 size =
        font->CalcTextSizeA(font->FontSize, 1e6F, room, text.data(), text.data() + text.size());
    const float height = size.y + pad;
    const ImVec2 at{place.x + gap, from_bottom ? place.y + place.height - gap - height : place.y + gap};
    draw->AddRectFilled(at, {at.x + size.x + 2.0F * pad, at.y + height}, faded(look.colours.ground, 0.88F));
    draw->AddRectFilled(at, {at.x + 0.2F * look.unit, at.y + height}, edge);
    draw->AddText(font, font->FontSize, {at.x + pad + 0.1F * look.unit, at.y + 0.5F * pad}, colour,
                  text.data(), text.data() + text.size(), room);
}

/// How the rink in this frame is known, when a coach should think twice; empty when it is sure.
std::string fit_words(const Look& look, const FitHere& here, bool looked_for) {
    const bool known = here.source == FitHere::Source::clicked || here.source == FitHere::Source::carried;
    if (looked_for && !known) return "looking for the rink in this frame ...";
    switch (here.source) {
    case FitHere::Source::none:
    case FitHere::Source::clicked:
        return {};
    case FitHere::Source::carried:
        if (here.state == CarryState::held) return {};
        return fmt::format("rink unsure here, a place is off by ± {}: [fit_rink] fits it again",
                           length_words(look, here.sigma_m));
    case FitHere::Source::elsewhere:
        return fmt::format(
            "not measured: the rink of frame {} was not followed here. [fit_rink] fits it here",
            here.key->frame);
    case FitHere::Source::lost:
        return "not measured: the rink was lost on the way here. [fit_rink] fits it here";
    }
    return {};
}

/// The game clock of the frame on screen; empty without clock marks.
std::string clock_here(const LogState& log, const FilmStage& stage) {
    const auto frames = frames_of(stage);
    if (!frames || !stage.on_screen) return {};
    const auto time = game_time_at(clock_marks_of(log, open_film(log)), frames->seconds_of(*stage.on_screen));
    if (!time) return {};
    return game_time_words(time->period, time->clock_s) + (time->standing ? "  stands" : "");
}

/// In the top-right corner of the picture. Out: the width it takes from the words beside it.
float draw_clock_here(const Look& look, ImDrawList* draw, const Rect& place, const std::string& words) {
    if (words.empty()) return 0.0F;
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
void draw_clock_field(const Panel& panel, ClockEntry& clock) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const bool sets = clock.field == ClockField::set;
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
    if (ImGui::InputTextWithHint("##clock", "2 14:35", &clock.text,
                                 ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll)) {
        if (sets) {
            panel.actions.push_back(SetClock{clock.text});
        } else {
            panel.actions.push_back(GoToClock{clock.text});
        }
        clock.sent = true;
    }
    quiet_text(look, sets ? "14:35 alone: same period.  stop, go: stands, runs" : "14:35 alone: this period");
    ImGui::EndChild();
    ImGui::PopStyleVar();
    ImGui::PopStyleColor(2);
}

/// The wheel magnifies, the right button moves what is magnified.
void move_view(FilmView& view, ScreenPoint mouse) {
    if (!ImGui::IsItemHovered()) return;
    if (const float wheel = ImGui::GetIO().MouseWheel; wheel != 0.0F)
        view = zoomed(view, std::pow(1.25, wheel), mouse);
    if (!ImGui::IsMouseDragging(ImGuiMouseButton_Right) || view.zoom <= 1.0) return;
    const ImVec2 by = ImGui::GetIO().MouseDelta;
    view.centre.x_px -= by.x / view.scale();
    view.centre.y_px -= by.y / view.scale();
}

/// A click takes hold of what lies under it, else it places what the hand asks for.
void press_on_picture(const Panel& panel, LogPart& part, const FilmView& view, ScreenPoint mouse,
                      std::int64_t frame) {
    const LogState& log = part.state();
    const Hand hand = log.selection.hand();
    const ImagePoint at = view.to_image(mouse);
    for (const Handle& handle : handles_of(log, frame)) {
        const ScreenPoint there = view.to_screen(handle.at);
        if (std::hypot(there.x - mouse.x, there.y - mouse.y) > grab_px) continue;
        if (!log.selection.fit() && hand != Hand::empty && hand != Hand::threat) continue;
        part.drag = Drag{handle.mark, handle.click, {handle.at.x_px - at.x_px, handle.at.y_px - at.y_px}};
        if (handle.mark) panel.actions.push_back(HoldMark{*handle.mark});
    }
    if (!part.drag && hand != Hand::empty) panel.actions.push_back(FilmClick{at});
}

/// The right button let go where it was pressed: what can be done with what lies there.
void open_right_click_menu(LogPart& part, const FilmView& view, ScreenPoint mouse, std::int64_t frame) {
    constexpr float still_px = 4.0F;
    if (!ImGui::IsMouseReleased(ImGuiMouseButton_Right) ||
        ImGui::GetIO().MouseDragMaxDistanceSqr[ImGuiMouseButton_Right] > still_px * still_px)
        return;
    RightClicked there;
    for (const Handle& handle : handles_of(part.state(), frame)) {
        const ScreenPoint at = view.to_screen(handle.at);
        if (std::hypot(at.x - mouse.x, at.y - mouse.y) <= grab_px) there = {handle.mark, handle.click};
    }
    part.menu = there;
    part.menu_open = false;
}

void drag_on(const Panel& panel, std::optional<Drag>& drag, ImagePoint at) {
    const ImagePoint to{at.x_px + drag->offset.x_px, at.y_px + drag->offset.y_px};
    const bool done = !ImGui::IsMouseDown(ImGuiMouseButton_Left);
    const ImVec2 by = ImGui::GetIO().MouseDelta;
    const bool moved = by.x != 0.0F || by.y != 0.0F;
    const ImVec2 whole = ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 2.0F);
    const bool travelled = whole.x != 0.0F || whole.y != 0.0F;
    if (drag->click && moved && travelled) panel.actions.push_back(DragClick{*drag->click, to});
    // Held and let go where it was: a click like any other. Landmarks may lie nearer together than a hand is sure.
    if (drag->click && done && !travelled) panel.actions.push_back(FilmClick{at});
    if (drag->mark && travelled && (moved || done)) panel.actions.push_back(DragMark{*drag->mark, to, done});
    if (done) drag.reset();
}

struct NoPicture {
    std::string heading = "No film is open";
    std::string words = "Drop a film of the game on the desk, or press [games] to type where it is.";
    bool trouble = false;
};

NoPicture why_no_picture(const FilmStage& stage, std::size_t shots) {
    if (!stage.film) return {};
    const std::string name = std::filesystem::path(stage.path).filename().string();
    if (stage.film->state() == FilmDesk::State::opening)
        return {"Opening " + name,
                fmt::format("Reading which frames it has: {:.0f} %", 100.0 * stage.film->progress())};
    if (stage.film->state() == FilmDesk::State::failed) {
        std::string words = stage.film->error();
        if (shots > 0)
            words +=
                fmt::format("\n\nNothing is lost: the {} shots of this game stay. Drop the film on the desk, "
                            "or press [games] and say where it is now.",
                            shots);
        return {name + " cannot be shown", words, true};
    }
    const std::string missing = stage.film->missing(stage.player.frame);
    return {missing.empty() ? "" : fmt::format("Frame {} is missing", number(stage.player.frame)), missing};
}

void draw_no_picture(const Look& look, const Rect& place, const NoPicture& none) {
    const std::string words = with_keys(none.words);
    const float width = std::min(34.0F * look.unit, place.width - 4.0F * look.unit);
    ImGui::SetCursorScreenPos({place.x + 0.5F * (place.width - width), place.y + 0.36F * place.height});
    ImGui::BeginGroup();
    ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width);
    text_in(look.heading, look.colours.text, none.heading);
    text_in(look.body, none.trouble ? look.colours.trouble : look.colours.quiet, words);
    ImGui::PopTextWrapPos();
    ImGui::EndGroup();
}

/// The picture with what lies over it, and what the mouse does there.
void draw_picture(const Panel& panel, FilmStage& stage, LogPart& part, PictureUse use) {
    const Rect& place = panel.place;
    const Look& look = panel.look;
    FilmView& view = stage.view;
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const ImVec2 from = vec(view.to_screen({0.0, 0.0}));
    const ImVec2 to = vec(view.to_screen(
        {static_cast<double>(view.shown.width_px), static_cast<double>(view.shown.height_px)}));
    // The picture hides what lies below; blending all of it would cost a software renderer milliseconds.
    draw->AddCallback([](const ImDrawList*, const ImDrawCmd*) { glDisable(GL_BLEND); }, nullptr);
    draw->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(stage.texture.id())), from, to);
    draw->AddCallback(ImDrawCallback_ResetRenderState, nullptr);
    ImGui::SetCursorScreenPos(corner(place));
    ImGui::InvisibleButton("picture", {place.width, place.height},
                           ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight);
    const ScreenPoint mouse{ImGui::GetIO().MousePos.x, ImGui::GetIO().MousePos.y};
    const bool hovered = ImGui::IsItemHovered();
    if (use != PictureUse::answer_hidden) {
        draw->PushClipRect({std::max(from.x, place.x), std::max(from.y, place.y)},
                           {std::min(to.x, place.x + place.width), std::min(to.y, place.y + place.height)},
                           true);
        draw_overlay({look, view, draw}, part, frame_seen(stage), use == PictureUse::marking);
        draw->PopClipRect();
    }
    const bool pressed = ImGui::IsItemClicked(ImGuiMouseButton_Left);
    move_view(view, mouse);
    // Clicks belong to the frame that is seen: while another is awaited, none is taken.
    if (stage.on_screen != stage.player.frame || use != PictureUse::marking) return;
    draw->PushClipRect(corner(place), far_corner(place), true);
    if (pressed) press_on_picture(panel, part, view, mouse, number(stage.player.frame));
    const ImagePoint at = view.to_image(mouse);
    if (part.drag) drag_on(panel, part.drag, at);
    if (hovered) open_right_click_menu(part, view, mouse, number(stage.player.frame));
    draw_right_click_menu(panel, part);
    const ImagePoint offset = part.drag ? part.drag->offset : ImagePoint{};
    if (hovered && (part.drag || part.state().selection.hand() != Hand::empty))
        draw_loupe({look, view, draw}, stage.texture, part, {at.x_px + offset.x_px, at.y_px + offset.y_px});
    draw->PopClipRect();
}

} // namespace

void draw_film_view(const Panel& panel, FilmStage& stage, LogPart& part, ClockEntry& clock, PictureUse use) {
    const Look& look = panel.look;
    const Rect& place = panel.place;
    const Palette& c = look.colours;
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0.0F, 0.0F});
    begin_panel("film", place, c.ground);
    ImGui::PopStyleVar();
    stage.view.panel = place;
    ImDrawList* draw = ImGui::GetWindowDrawList();
    const LogState& log = part.state();
    const bool waits = stage.on_screen != stage.player.frame && stage.film;
    if (!stage.texture.filled() || (waits && !stage.film->missing(stage.player.frame).empty())) {
        draw_no_picture(look, place, why_no_picture(stage, log.shots.size()));
    } else {
        draw_picture(panel, stage, part, use);
    }
    Rect beside_clock = place;
    beside_clock.width -= draw_clock_here(look, draw, place, clock_here(log, stage));
    const bool empty_hand = log.selection.hand() == Hand::empty;
    const std::string words = with_keys(empty_hand && stage.on_screen && use == PictureUse::marking
                                            ? fit_words(look, part.view.here, stage.search.work != nullptr)
                                            : "");
    if (!words.empty()) draw_words(look, draw, beside_clock, words, c.quiet, c.rope, false);
    if (clock.field != ClockField::closed) draw_clock_field(panel, clock);
    if (const Notice& notice = log.notice; !notice.text.empty()) {
        draw_words(look, draw, place, notice.text, notice.trouble ? c.trouble : c.text,
                   notice.trouble ? c.trouble : c.save, true);
    }
    ImGui::End();
}

} // namespace ropeline
