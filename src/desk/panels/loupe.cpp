#include "desk/panels/loupe.h"

#include "camera/fit_advice.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

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

const RinkFit* known_fit(const FitDraft* fit, const FitHere& here) {
    if (fit && fit->fit) return &*fit->fit;
    if (fit && fit->proposed) return &*fit->proposed;
    return here.fit ? &*here.fit : nullptr;
}

/// Half of what the loupe takes in, in pixels of the film.
double reach_px(const FitDraft* fit, ImagePoint at, float size) {
    constexpr double magnified = 8.0, spot_reach_px = 32.0, spot_reach_m = 0.45;
    const double fine_px = 0.5 * size / magnified;
    if (!fit) return fine_px;
    const RinkFit* known = known_fit(fit, {});
    const auto place = known ? ice_at(*known, at) : std::nullopt;
    if (!place) return spot_reach_px;
    double most_px = 0.0;
    for (const IcePoint aside : {IcePoint{spot_reach_m, 0.0}, IcePoint{0.0, spot_reach_m}}) {
        const auto edge = image_at(*known, *place + aside);
        if (edge) most_px = std::max(most_px, std::hypot(edge->x_px - at.x_px, edge->y_px - at.y_px));
    }
    return std::clamp(most_px, fine_px, 0.5 * size);
}

/// The net on screen in its height.
std::optional<Rect> net_on_screen(const Canvas& on, const RinkFit& fit) {
    constexpr double half_m = 1.1, high_m = 1.3, deep_m = 1.2;
    const auto middle = image_at(fit, {0.0, 0.0});
    if (!middle) return std::nullopt;
    const ScreenPoint at = on.view.to_screen(*middle);
    float left = at.x, right = at.x, top = at.y, bottom = at.y, metre = 0.0F;
    for (const IcePoint corner : {IcePoint{-half_m, 0.0}, IcePoint{half_m, 0.0}, IcePoint{-half_m, -deep_m},
                                  IcePoint{half_m, -deep_m}}) {
        const auto seen = image_at(fit, corner);
        if (!seen) return std::nullopt;
        const ScreenPoint there = on.view.to_screen(*seen);
        left = std::min(left, there.x), right = std::max(right, there.x);
        top = std::min(top, there.y), bottom = std::max(bottom, there.y);
        metre =
            std::max(metre, std::hypot(there.x - at.x, there.y - at.y) / static_cast<float>(length(corner)));
    }
    top -= static_cast<float>(high_m) * metre;
    return Rect{left, top, right - left, bottom - top};
}

/// What the loupe shows, as a view of the picture.
FilmView loupe_view(const FilmView& view, const Rect& place, ImagePoint at, double half_px) {
    FilmView close{place, view.shown, 1.0, at};
    close.zoom = 0.5 * place.width / (half_px * close.scale());
    return close;
}

} // namespace

void draw_loupe(const Canvas& on, const FilmTexture& texture, const LogPart& part, ImagePoint at) {
    const Look& look = on.look;
    ImDrawList* draw = on.draw;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const float unit = look.unit;
    const float size = 9.0F * unit;
    const FitDraft* fit = part.state().selection.fit();
    const RinkFit* known = known_fit(fit, part.view.here);
    const Rect place = loupe_place(on.view.panel, {mouse.x, mouse.y}, size, 2.0F * unit,
                                   known ? net_on_screen(on, *known) : std::nullopt);
    const ImVec2 from{place.x, place.y};
    const auto width = static_cast<float>(on.view.shown.width_px);
    const auto height = static_cast<float>(on.view.shown.height_px);
    const double half_px = reach_px(fit, at, size);
    const auto half = static_cast<float>(half_px);
    const auto x = static_cast<float>(at.x_px);
    const auto y = static_cast<float>(at.y_px);
    draw->AddRectFilled(from, {from.x + size, from.y + size}, IM_COL32(0, 0, 0, 255));
    draw->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture.id())), from,
                   {from.x + size, from.y + size}, {(x - half) / width, (y - half) / height},
                   {(x + half) / width, (y + half) / height});
    if (fit) {
        const FilmView close = loupe_view(on.view, place, at, half_px);
        draw->PushClipRect(from, {from.x + size, from.y + size}, true);
        draw_fitted_paint({look, close, draw}, *fit);
        draw->PopClipRect();
    }
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
