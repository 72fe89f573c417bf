#include "desk/drawn_text.h"

#include <fmt/core.h>
#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <string_view>

namespace ropeline::test {

namespace {

/// A glyph's place in the atlas, which tells whether a quad shows all of it.
using Corners = std::array<long, 4>;

Corners corners_of(float u0, float v0, float u1, float v1) {
    constexpr float fine = 1e5F;
    return {std::lround(u0 * fine), std::lround(v0 * fine), std::lround(u1 * fine), std::lround(v1 * fine)};
}

std::set<Corners> whole_glyphs() {
    std::set<Corners> all;
    for (const ImFont* font : ImGui::GetIO().Fonts->Fonts)
        for (const ImFontGlyph& glyph : font->Glyphs)
            all.insert(corners_of(glyph.U0, glyph.V0, glyph.U1, glyph.V1));
    return all;
}

const ImGuiWindow* owner_of(const ImDrawList& list) {
    for (const ImGuiWindow* window : ImGui::GetCurrentContext()->Windows)
        if (window->DrawList == &list) return window;
    return nullptr;
}

/// A text field scrolls its words along with what is typed, so their ends may be hidden.
bool in_a_field(const ImGuiWindow* window) {
    return window && std::string_view{window->Name}.find("##") != std::string_view::npos;
}

struct Quad {
    ImRect at, uv;
};

/// The quads of a command that show something of the font atlas with a height: lines are drawn from a single row of it.
std::vector<Quad> glyph_quads(const ImDrawList& list, const ImDrawCmd& command) {
    std::vector<Quad> quads;
    const ImDrawVert* vertices = list.VtxBuffer.Data + command.VtxOffset;
    const ImDrawIdx* index = list.IdxBuffer.Data + command.IdxOffset;
    for (unsigned at = 0; at + 6 <= command.ElemCount;) {
        const ImDrawVert &first = vertices[index[at]], &last = vertices[index[at + 2]];
        const bool quad = index[at] == index[at + 3] && index[at + 2] == index[at + 4] &&
                          index[at + 5] == index[at] + 3 && last.uv.x > first.uv.x && last.uv.y > first.uv.y;
        if (quad) quads.push_back({{first.pos, last.pos}, {first.uv, last.uv}});
        at += quad ? 6 : 3;
    }
    return quads;
}

/// Those of a window and of what lies in it, which is drawn over it.
using GlyphsOf = std::map<const ImGuiWindow*, std::vector<ImRect>>;

void find_cut(const ImDrawList& list, const std::set<Corners>& whole, DrawnText& found,
              std::set<std::string>& said, GlyphsOf& glyphs) {
    const ImGuiWindow* window = owner_of(list);
    const std::string name = window ? window->Name : "?";
    const bool scrolls = window && window->ScrollbarY;
    for (const ImDrawCmd& command : list.CmdBuffer) {
        if (command.UserCallback || command.TextureId != ImGui::GetIO().Fonts->TexID) continue;
        const ImRect clip{command.ClipRect.x, command.ClipRect.y, command.ClipRect.z, command.ClipRect.w};
        for (const Quad& quad : glyph_quads(list, command)) {
            ++found.glyphs;
            if (name == "headline")
                found.tallest_in_headline_px = std::max(found.tallest_in_headline_px, quad.at.GetHeight());
            constexpr float soft_px = 1.5F; // the soft edge of a letter
            const bool out_of_sight = !clip.Overlaps(quad.at);
            const bool sideways =
                quad.at.Min.x < clip.Min.x - soft_px || quad.at.Max.x > clip.Max.x + soft_px;
            const bool upright = quad.at.Min.y < clip.Min.y - soft_px || quad.at.Max.y > clip.Max.y + soft_px;
            if ((sideways || upright) && !(scrolls && (out_of_sight || !sideways)))
                said.insert(fmt::format("{}: a glyph runs over its {} edge near {:.0f}, {:.0f}", name,
                                        sideways ? "side" : "upper or lower", quad.at.Min.x, quad.at.Min.y));
            const bool trimmed =
                !whole.contains(corners_of(quad.uv.Min.x, quad.uv.Min.y, quad.uv.Max.x, quad.uv.Max.y));
            if (trimmed && !scrolls && !in_a_field(window))
                said.insert(fmt::format("{}: a glyph is trimmed near {:.0f}, {:.0f}", name, quad.at.Min.x,
                                        quad.at.Min.y));
            if (!out_of_sight) glyphs[window ? window->RootWindow : nullptr].push_back(quad.at);
        }
    }
}

void find_overwritten(const std::string& name, std::vector<ImRect>& glyphs, std::set<std::string>& said) {
    std::ranges::sort(glyphs, {}, [](const ImRect& one) { return one.Min.x; });
    for (std::size_t one = 0; one < glyphs.size(); ++one) {
        for (std::size_t other = one + 1; other < glyphs.size() && glyphs[other].Min.x < glyphs[one].Max.x;
             ++other) {
            ImRect both = glyphs[one];
            both.ClipWith(glyphs[other]);
            const float least = std::min(glyphs[one].GetArea(), glyphs[other].GetArea());
            if (both.GetWidth() > 0.0F && both.GetHeight() > 0.0F && both.GetArea() > 0.5F * least &&
                least > 6.0F)
                said.insert(fmt::format("{}: words stand on one another near {:.0f}, {:.0f}", name,
                                        both.Min.x, both.Min.y));
        }
    }
}

} // namespace

DrawnText drawn_text() {
    DrawnText found;
    std::set<std::string> said;
    const auto whole = whole_glyphs();
    GlyphsOf glyphs;
    const ImDrawData& data = *ImGui::GetDrawData();
    for (int list = 0; list < data.CmdListsCount; ++list)
        find_cut(*data.CmdLists[list], whole, found, said, glyphs);
    for (auto& [window, written] : glyphs)
        find_overwritten(window ? window->Name : "?", written, said);
    for (const ImGuiWindow* window : ImGui::GetCurrentContext()->Windows) {
        if (!window->Active || window->Hidden || std::string_view{window->Name}.starts_with("Debug"))
            continue;
        if (window->ScrollMax.y > 1.0F && !window->ScrollbarY)
            said.insert(fmt::format("{}: {:.0f} px of it lie below and no scroll bar shows", window->Name,
                                    window->ScrollMax.y));
        if (window->ScrollMax.x > 1.0F && !window->ScrollbarX)
            said.insert(
                fmt::format("{}: {:.0f} px of it lie beyond its side", window->Name, window->ScrollMax.x));
    }
    found.cut.assign(said.begin(), said.end());
    return found;
}

} // namespace ropeline::test
