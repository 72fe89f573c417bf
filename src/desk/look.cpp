#include "desk/look.h"

#include "desk/other_fonts.h"

#include <fontconfig/fontconfig.h>
#include <imgui_freetype.h>

#include <memory>
#include <string>

namespace ropeline {

namespace {

struct FreePattern {
    void operator()(FcPattern* owned) const { FcPatternDestroy(owned); }
};

/// Path of the installed face, or empty when fontconfig only has a substitute for it.
std::string font_path(const char* wanted) {
    if (FcInit() == FcFalse) return {};
    const std::unique_ptr<FcPattern, FreePattern> pattern{
        FcNameParse(reinterpret_cast<const FcChar8*>(wanted))};
    FcConfigSubstitute(nullptr, pattern.get(), FcMatchPattern);
    FcDefaultSubstitute(pattern.get());
    FcResult result = FcResultNoMatch;
    const std::unique_ptr<FcPattern, FreePattern> found{FcFontMatch(nullptr, pattern.get(), &result)};
    FcChar8* file = nullptr;
    FcChar8* family = nullptr;
    if (!found || FcPatternGetString(found.get(), FC_FILE, 0, &file) != FcResultMatch ||
        FcPatternGetString(found.get(), FC_FAMILY, 0, &family) != FcResultMatch) {
        return {};
    }
    const std::string_view name = reinterpret_cast<const char*>(family);
    if (name.substr(0, 5) != "Inter") return {};
    return reinterpret_cast<const char*>(file);
}

constexpr ImWchar every_letter[] = {0x0020, 0x024F, 0x0370, 0x03FF, 0x0400, 0x04FF, 0x2010, 0x2027, 0x2030,
                                    0x203A, 0x2190, 0x2199, 0x2212, 0x2212, 0x2264, 0x2265, 0};
/// The large sizes are for our own words and figures: names in them would make the atlas four times as large.
constexpr ImWchar own_words[] = {0x0020, 0x00FF, 0x2010, 0x2027, 0x2212, 0x2212, 0};

ImFont* load(const char* wanted, float pixels, const std::vector<OtherFace>& others = {},
             const ImWchar* glyphs = every_letter) {
    ImFontAtlas& fonts = *ImGui::GetIO().Fonts;
    const std::string path = font_path(wanted);
    ImFontConfig config;
    config.SizePixels = pixels;
    ImFont* font = path.empty() ? nullptr : fonts.AddFontFromFileTTF(path.c_str(), pixels, nullptr, glyphs);
    if (!font) font = fonts.AddFontDefault(&config);
    for (const OtherFace& other : others) {
        config.MergeMode = true;
        config.FontNo = other.face;
        fonts.AddFontFromFileTTF(other.path.c_str(), pixels, &config, other.ranges.data());
    }
    return font;
}

ImVec4 vec(ImU32 colour) {
    return ImGui::ColorConvertU32ToFloat4(colour);
}

void put_style(const Palette& colours, float unit) {
    ImGuiStyle style;
    style.WindowPadding = {0.75F * unit, 0.6F * unit};
    style.FramePadding = {0.5F * unit, 0.28F * unit};
    style.ItemSpacing = {0.5F * unit, 0.4F * unit};
    style.CellPadding = {0.4F * unit, 0.22F * unit};
    style.ScrollbarSize = 0.7F * unit;
    style.WindowBorderSize = 0.0F;
    style.FrameRounding = style.GrabRounding = 0.2F * unit;
    style.PopupRounding = 0.3F * unit;
    style.WindowRounding = 0.0F;
    ImVec4* c = style.Colors;
    c[ImGuiCol_Text] = vec(colours.text);
    c[ImGuiCol_TextDisabled] = vec(colours.quiet);
    c[ImGuiCol_WindowBg] = vec(colours.panel);
    c[ImGuiCol_ChildBg] = {0, 0, 0, 0};
    c[ImGuiCol_PopupBg] = vec(colours.raised);
    c[ImGuiCol_Border] = vec(colours.edge);
    c[ImGuiCol_FrameBg] = vec(colours.raised);
    c[ImGuiCol_FrameBgHovered] = vec(colours.edge);
    c[ImGuiCol_FrameBgActive] = vec(colours.edge);
    c[ImGuiCol_Button] = vec(colours.raised);
    c[ImGuiCol_ButtonHovered] = vec(colours.edge);
    c[ImGuiCol_ButtonActive] = vec(colours.rope);
    c[ImGuiCol_Header] = vec(colours.edge);
    c[ImGuiCol_HeaderHovered] = vec(colours.edge);
    c[ImGuiCol_HeaderActive] = vec(colours.edge);
    c[ImGuiCol_CheckMark] = vec(colours.rope);
    c[ImGuiCol_TableHeaderBg] = vec(colours.raised);
    c[ImGuiCol_TableBorderLight] = vec(colours.edge);
    c[ImGuiCol_TableBorderStrong] = vec(colours.edge);
    c[ImGuiCol_TableRowBgAlt] = vec((colours.edge & 0x00FFFFFFU) | 0x30000000U);
    c[ImGuiCol_ScrollbarBg] = vec(colours.panel);
    c[ImGuiCol_ScrollbarGrab] = vec(colours.edge);
    c[ImGuiCol_ScrollbarGrabHovered] = vec(colours.quiet);
    c[ImGuiCol_TextSelectedBg] = vec((colours.rope & 0x00FFFFFFU) | 0x60000000U);
    c[ImGuiCol_NavHighlight] = vec(colours.rope);
    c[ImGuiCol_ModalWindowDimBg] = {0, 0, 0, 0.55F};
    ImGui::GetStyle() = style;
}

} // namespace

Palette palette(bool dark) {
    Palette c{};
    // Outcome and band colours keep their contrast under the three common colour-vision deficiencies (blue
    // against orange, and lightness steps); shapes and words carry the same meaning.
    if (dark) {
        c.ground = IM_COL32(10, 18, 26, 255);
        c.panel = IM_COL32(17, 28, 39, 255);
        c.raised = IM_COL32(29, 44, 59, 255);
        c.edge = IM_COL32(49, 69, 88, 255);
        c.text = IM_COL32(233, 240, 245, 255);
        c.quiet = IM_COL32(154, 174, 190, 255);
        c.faint = IM_COL32(92, 112, 130, 255);
        c.rope = IM_COL32(226, 178, 92, 255);
        c.on_rope = IM_COL32(24, 18, 6, 255);
        c.trouble = IM_COL32(255, 140, 112, 255);
        c.ice = IM_COL32(33, 50, 64, 255);
        c.red_paint = IM_COL32(214, 88, 84, 255);
        c.blue_paint = IM_COL32(92, 148, 220, 255);
        c.boards = IM_COL32(120, 142, 160, 255);
        c.goal = IM_COL32(255, 128, 78, 255);
        c.save = IM_COL32(104, 182, 255, 255);
        c.other = IM_COL32(170, 184, 196, 255);
        c.bands[0] = IM_COL32(66, 88, 158, 255);
        c.bands[1] = IM_COL32(68, 138, 172, 255);
        c.bands[2] = IM_COL32(142, 190, 150, 255);
        c.bands[3] = IM_COL32(240, 214, 120, 255);
    } else {
        c.ground = IM_COL32(214, 222, 228, 255);
        c.panel = IM_COL32(242, 246, 248, 255);
        c.raised = IM_COL32(226, 233, 238, 255);
        c.edge = IM_COL32(188, 200, 210, 255);
        c.text = IM_COL32(16, 28, 38, 255);
        c.quiet = IM_COL32(76, 94, 110, 255);
        c.faint = IM_COL32(134, 150, 164, 255);
        c.rope = IM_COL32(164, 108, 16, 255);
        c.on_rope = IM_COL32(255, 250, 240, 255);
        c.trouble = IM_COL32(176, 44, 20, 255);
        c.ice = IM_COL32(252, 254, 255, 255);
        c.red_paint = IM_COL32(196, 48, 48, 255);
        c.blue_paint = IM_COL32(36, 92, 176, 255);
        c.boards = IM_COL32(96, 112, 128, 255);
        c.goal = IM_COL32(204, 74, 16, 255);
        c.save = IM_COL32(20, 96, 186, 255);
        c.other = IM_COL32(96, 110, 122, 255);
        c.bands[0] = IM_COL32(40, 54, 120, 255);
        c.bands[1] = IM_COL32(34, 108, 148, 255);
        c.bands[2] = IM_COL32(72, 136, 84, 255);
        c.bands[3] = IM_COL32(176, 130, 10, 255);
    }
    return c;
}

void put_look(Look& look, bool dark, const TypeSizes& type, const Letters& letters) {
    ImGuiIO& io = ImGui::GetIO();
    const float unit = type.body;
    const bool new_fonts = !look.body || look.type != type || look.letters != letters;
    look.dark = dark;
    look.unit = unit;
    look.type = type;
    look.letters = letters;
    look.colours = palette(dark);
    put_style(look.colours, unit);
    if (!new_fonts) return;
    const auto others = faces_for(letters);
    io.Fonts->Clear();
    io.Fonts->FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
    look.body = load("Inter:regular", unit, others);
    look.strong = load("Inter:semibold", unit, others);
    look.heading = load("Inter:semibold", 1.3F * unit, others);
    look.fact = load("Inter:semibold", type.fact, {}, own_words);
    look.figure = load("Inter:bold", type.hero, {}, own_words);
    io.FontDefault = look.body;
    io.Fonts->Build();
    io.Fonts->ClearInputData(); // a face of Chinese, Japanese and Korean is twenty megabytes
}

void draw_outcome(ImDrawList* draw, ImVec2 middle, float size, std::optional<Outcome> outcome,
                  const Palette& colours) {
    const float r = 0.5F * size;
    if (!outcome) {
        draw->AddNgon(middle, r, colours.rope, 4, 0.16F * size);
    } else if (*outcome == Outcome::goal) {
        draw->AddTriangleFilled({middle.x - r, middle.y + 0.8F * r}, {middle.x, middle.y - r},
                                {middle.x + r, middle.y + 0.8F * r}, colours.goal);
    } else if (is_save(*outcome)) {
        draw->AddCircle(middle, 0.85F * r, colours.save, 0, 0.2F * size);
    } else {
        draw->AddRectFilled({middle.x - 0.18F * size, middle.y - r}, {middle.x + 0.18F * size, middle.y + r},
                            colours.other);
    }
}

namespace {

ImU32 colour_of(Verdict verdict, const Palette& c) {
    if (verdict == Verdict::right_depth) return c.save;
    return verdict == Verdict::not_judged ? c.quiet : c.trouble;
}

} // namespace

void draw_verdict(ImDrawList* draw, ImVec2 middle, float size, Verdict verdict, const Palette& c) {
    const ImU32 colour = colour_of(verdict, c);
    const float r = 0.5F * size;
    const float line = 0.16F * size;
    const auto arrow = [&](float dx, float dy) {
        const ImVec2 tip{middle.x + dx * r, middle.y + dy * r};
        draw->AddLine({middle.x - dx * r, middle.y - dy * r}, tip, colour, line);
        draw->AddTriangleFilled({tip.x, tip.y},
                                {tip.x - dx * r - dy * 0.6F * r, tip.y - dy * r - dx * 0.6F * r},
                                {tip.x - dx * r + dy * 0.6F * r, tip.y - dy * r + dx * 0.6F * r}, colour);
    };
    switch (verdict) {
    case Verdict::right_depth:
        draw->AddRectFilled({middle.x - line, middle.y - r}, {middle.x + line, middle.y + r}, colour);
        break;
    case Verdict::over_challenged:
        arrow(0.0F, -1.0F);
        draw->AddLine({middle.x - 0.8F * r, middle.y + r}, {middle.x + 0.8F * r, middle.y + r}, colour, line);
        break;
    case Verdict::too_far_out:
        arrow(0.0F, -1.0F);
        break;
    case Verdict::sat_back:
        arrow(0.0F, 1.0F);
        break;
    case Verdict::off_angle:
        arrow(1.0F, 0.0F);
        break;
    case Verdict::beaten_across:
        for (const float at : {-0.5F, 0.5F})
            draw->AddTriangleFilled({middle.x + (at + 0.5F) * r, middle.y},
                                    {middle.x + (at - 0.5F) * r, middle.y - 0.8F * r},
                                    {middle.x + (at - 0.5F) * r, middle.y + 0.8F * r}, colour);
        break;
    case Verdict::off_the_post:
        draw->AddRectFilled({middle.x - r, middle.y - r}, {middle.x - r + line, middle.y + r}, colour);
        draw->AddCircle({middle.x + 0.45F * r, middle.y + 0.2F * r}, 0.45F * r, colour, 0, line);
        break;
    case Verdict::not_judged:
        draw->AddCircle(middle, 0.7F * r, colour, 0, line);
        break;
    }
}

} // namespace ropeline
