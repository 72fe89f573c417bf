#include "reel/scene_picture.h"

#include "reel/drawing.h"
#include "season/whole_file.h"
#include "sheet/svg.h"

#include <algorithm>
#include <cmath>
#include <new>
#include <variant>

namespace ropeline {
namespace {

OverlayColour colour_on_paper(Ink ink) {
    const Rgb rgb = ink_on_paper(ink);
    return {rgb.red / 255.0, rgb.green / 255.0, rgb.blue / 255.0, 1.0};
}

struct ScenePen {
    cairo_t* pen;
    double scale;

    void trace(const std::vector<ScenePoint>& points) const {
        cairo_new_path(pen);
        for (const ScenePoint& point : points)
            cairo_line_to(pen, scale * point.x, scale * point.y);
    }
    void operator()(const SceneFill& fill) const {
        trace(fill.points);
        set_colour(pen, colour_on_paper(fill.ink));
        cairo_fill(pen);
    }
    void operator()(const SceneStroke& stroke) const {
        trace(stroke.points);
        if (stroke.closed) cairo_close_path(pen);
        set_colour(pen, colour_on_paper(stroke.ink));
        cairo_set_line_width(pen, scale * stroke.width);
        cairo_stroke(pen);
    }
    void operator()(const SceneText& text) const {
        const TextLook look{.size_px = scale * text.size,
                            .colour = colour_on_paper(text.ink),
                            .strong = text.strong,
                            .wrap_px = 0.0,
                            .in_middle = false};
        const TextSize size = text_size(pen, text.text, look);
        const double back = text.anchor == Anchor::start    ? 0.0
                            : text.anchor == Anchor::middle ? 0.5 * size.width_px
                                                            : size.width_px;
        constexpr double inter_ascender = 2728.0 / (2728.0 + 680.0); // of a line; see desk/state/layout.h
        draw_text(pen, scale * text.at.x - back, scale * text.at.y - inter_ascender * size.height_px,
                  text.text, look);
    }
};

cairo_status_t append_to(void* to, const unsigned char* bytes, unsigned int length) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), length);
    return CAIRO_STATUS_SUCCESS;
}

} // namespace

std::string png_of(const Scene& scene, int width_px) {
    const int height_px = std::max(1, static_cast<int>(std::lround(scene.height * width_px)));
    const Surface surface = make_surface(width_px, height_px);
    {
        const Pen pen = make_pen(surface.get());
        cairo_set_line_cap(pen.get(), CAIRO_LINE_CAP_BUTT); // as in the SVG
        set_colour(pen.get(), colour_on_paper(Ink::paper));
        cairo_paint(pen.get());
        const ScenePen painter{pen.get(), static_cast<double>(width_px)};
        for (const SceneItem& item : scene.items)
            std::visit(painter, item);
    }
    std::string png;
    if (cairo_surface_write_to_png_stream(surface.get(), append_to, &png) != CAIRO_STATUS_SUCCESS)
        throw std::bad_alloc{};
    return png;
}

void write_chart_files(const std::filesystem::path& folder, std::span<const NamedChart> charts) {
    for (const NamedChart& chart : charts) {
        write_whole_file(folder / (chart.name + ".svg"), write_svg(chart.scene));
        write_whole_file(folder / (chart.name + ".png"), png_of(chart.scene));
    }
}

} // namespace ropeline
