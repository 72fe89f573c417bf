#include "desk/paint_scene.h"

#include <algorithm>

namespace ropeline {

namespace {

/// A little of it over the panel's ground, and not to be seen through: what lies edge to edge shows no seam.
ImU32 pale(ImU32 colour, const Palette& c) {
    constexpr float much = 0.28F;
    const auto mixed = [&](int shift) {
        const auto over = static_cast<float>((colour >> shift) & 0xFFU);
        const auto under = static_cast<float>((c.panel >> shift) & 0xFFU);
        return static_cast<ImU32>(under + much * (over - under)) << shift;
    };
    return mixed(IM_COL32_R_SHIFT) | mixed(IM_COL32_G_SHIFT) | mixed(IM_COL32_B_SHIFT) | IM_COL32_A_MASK;
}

ImU32 colour_of(Ink ink, const Palette& c) {
    switch (ink) {
    case Ink::paper:
        return c.panel;
    case Ink::defensive:
        return pale(c.bands[0], c);
    case Ink::conservative:
        return pale(c.bands[1], c);
    case Ink::base:
        return pale(c.bands[2], c);
    case Ink::aggressive:
        return pale(c.bands[3], c);
    case Ink::rule:
        return c.edge;
    case Ink::text:
        return c.text;
    case Ink::quiet_text:
        return c.quiet;
    case Ink::goal:
        return c.goal;
    case Ink::save:
        return c.save;
    case Ink::other:
        return c.other;
    case Ink::shot:
        return c.save;
    case Ink::shot_band:
    case Ink::few:
        return pale(c.save, c);
    case Ink::pass:
    case Ink::many:
        return c.goal;
    case Ink::pass_band:
    case Ink::some:
        return pale(c.goal, c);
    }
    return c.text;
}

struct Painter {
    ImDrawList* draw;
    const Look& look;
    ImVec2 at;
    float width;

    ImVec2 place(ScenePoint p) const {
        return {at.x + width * static_cast<float>(p.x), at.y + width * static_cast<float>(p.y)};
    }
    std::vector<ImVec2> places(const std::vector<ScenePoint>& points) const {
        std::vector<ImVec2> all;
        all.reserve(points.size());
        for (const ScenePoint p : points)
            all.push_back(place(p));
        return all;
    }
    void operator()(const SceneFill& fill) const {
        const auto points = places(fill.points);
        draw->AddConvexPolyFilled(points.data(), static_cast<int>(points.size()),
                                  colour_of(fill.ink, look.colours));
    }
    void operator()(const SceneStroke& stroke) const {
        const auto points = places(stroke.points);
        const float thick = std::max(1.0F, width * static_cast<float>(stroke.width));
        draw->AddPolyline(points.data(), static_cast<int>(points.size()), colour_of(stroke.ink, look.colours),
                          stroke.closed ? ImDrawFlags_Closed : ImDrawFlags_None, thick);
    }
    void operator()(const SceneText& text) const {
        const ImFont* font = text.strong ? look.strong : look.body;
        const float size = std::max(0.66F * look.unit, width * static_cast<float>(text.size));
        const float wide = font->CalcTextSizeA(size, 1e6F, 0.0F, text.text.c_str()).x;
        ImVec2 p = place(text.at);
        if (text.anchor == Anchor::middle) p.x -= 0.5F * wide;
        if (text.anchor == Anchor::end) p.x -= wide;
        p.y -= 0.8F * size; // the scene gives the base line
        draw->AddText(font, size, p, colour_of(text.ink, look.colours), text.text.c_str());
    }
};

} // namespace

float paint_scene(ImDrawList* draw, const Look& look, ImVec2 at, float width, const Scene& scene) {
    const Painter painter{draw, look, at, width};
    for (const SceneItem& item : scene.items)
        std::visit(painter, item);
    return width * static_cast<float>(scene.height);
}

} // namespace ropeline
