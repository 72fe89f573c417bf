#include "reel/drawing.h"

#include "rink/units.h"
#include "sheet/text.h"

#include <pango/pangocairo.h>

#include <algorithm>
#include <new>
#include <string>

namespace ropeline {
namespace {

struct FreeObject {
    void operator()(void* owned) const noexcept { g_object_unref(owned); }
};
struct FreeFont {
    void operator()(PangoFontDescription* owned) const noexcept { pango_font_description_free(owned); }
};
using Layout = std::unique_ptr<PangoLayout, FreeObject>;

Layout layout_of(cairo_t* pen, std::string_view text, const TextLook& look) {
    Layout layout{pango_cairo_create_layout(pen)};
    const std::unique_ptr<PangoFontDescription, FreeFont> font{
        pango_font_description_from_string(look.strong ? "Inter, sans semi-bold" : "Inter, sans")};
    pango_font_description_set_absolute_size(font.get(), look.size_px * PANGO_SCALE);
    pango_layout_set_font_description(layout.get(), font.get());
    const std::string shown = printable(text);
    pango_layout_set_text(layout.get(), shown.data(), static_cast<int>(shown.size()));
    if (look.wrap_px > 0.0) {
        pango_layout_set_width(layout.get(), static_cast<int>(look.wrap_px * PANGO_SCALE));
        pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
        if (look.in_middle) pango_layout_set_alignment(layout.get(), PANGO_ALIGN_CENTER);
    }
    return layout;
}

TextSize size_of(PangoLayout* layout) {
    int width = 0, height = 0;
    pango_layout_get_pixel_size(layout, &width, &height);
    return {static_cast<double>(width), static_cast<double>(height)};
}

} // namespace

Surface make_surface(int width_px, int height_px) {
    Surface surface{cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width_px, height_px)};
    if (cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS) throw std::bad_alloc{};
    return surface;
}

Pen make_pen(cairo_surface_t* surface) {
    Pen pen{cairo_create(surface)};
    cairo_set_line_cap(pen.get(), CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(pen.get(), CAIRO_LINE_JOIN_ROUND);
    return pen;
}

void set_colour(cairo_t* pen, OverlayColour colour) {
    cairo_set_source_rgba(pen, colour.red, colour.green, colour.blue, colour.alpha);
}

void fill_box(cairo_t* pen, double x, double y, double width, double height, double round,
              OverlayColour colour) {
    const double r = std::min({round, 0.5 * width, 0.5 * height});
    cairo_new_path(pen);
    cairo_arc(pen, x + width - r, y + r, r, -0.5 * pi, 0.0);
    cairo_arc(pen, x + width - r, y + height - r, r, 0.0, 0.5 * pi);
    cairo_arc(pen, x + r, y + height - r, r, 0.5 * pi, pi);
    cairo_arc(pen, x + r, y + r, r, pi, 1.5 * pi);
    cairo_close_path(pen);
    set_colour(pen, colour);
    cairo_fill(pen);
}

TextSize text_size(cairo_t* pen, std::string_view text, const TextLook& look) {
    return size_of(layout_of(pen, text, look).get());
}

TextSize draw_text(cairo_t* pen, double x, double y, std::string_view text, const TextLook& look) {
    const Layout layout = layout_of(pen, text, look);
    set_colour(pen, look.colour);
    cairo_move_to(pen, x, y);
    pango_cairo_show_layout(pen, layout.get());
    return size_of(layout.get());
}

TextLook fitted_look(cairo_t* pen, std::string_view text, TextLook look, double height_px) {
    const double least = look.size_px / 3.0;
    while (look.size_px > least && text_size(pen, text, look).height_px > height_px)
        look.size_px = std::max(least, 0.9 * look.size_px);
    return look;
}

} // namespace ropeline
